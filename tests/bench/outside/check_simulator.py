#!/usr/bin/env python3
"""Checks the simulator itself, in seconds: that what its truth says of a file is what the file holds, to 1 ms.

Clicks through every container and codec come out where they went in, with the sound before, at and after the first picture; clicks through a
room, a wrong clock, a drift and a loss lie where the truth says; and files of a small session, decoded and laid on the true clock, agree by
cross-correlation but for the way that sound has to travel.
"""

import sys
import tempfile
from pathlib import Path
from types import SimpleNamespace

import numpy
from scipy import signal

from cameras import FORMATS, lay_pieces
from files import encode, read_sound
from make_session import make_session
from recording import instants_s, ready_to_sample, sample
from room import Room, SOUND_M_PER_S, hear, impulse_response
from sounds import SHOP_RATE_HZ
from truth import Loss, Recording

TOLERANCE_S = 0.00101
READ_RATE_HZ = 48000
FIRST_REFLECTIONS_S = 0.045
failures = []


def judge(what, error_s, bound_s=TOLERANCE_S):
    """Notes one comparison."""
    passed = abs(error_s) <= bound_s
    print(f"{'ok  ' if passed else 'FAIL'} {what}: {1000 * error_s:+.3f} ms")
    if not passed:
        failures.append(what)


def click_shape(rate_hz):
    """A short chirp, which a lossy codec keeps and which correlates at one place only."""
    time_s = numpy.arange(int(0.02 * rate_hz)) / rate_hz
    return 0.7 * numpy.hanning(time_s.size) * numpy.sin(2 * numpy.pi * (800 * time_s + 100000 * time_s ** 2))


def find_click_s(sound, about_s, shape, rate_hz, around_s=0.15):
    """Where the shape begins in a sound, near a place."""
    first = max(0, int((about_s - around_s) * rate_hz))
    match = signal.correlate(sound[first:first + int(2 * around_s * rate_hz) + shape.size], shape, "valid")
    peak = int(numpy.argmax(match))
    return (first + peak + vertex(match, peak)) / rate_hz


def vertex(values, peak):
    """Where between samples a peak is."""
    if not 0 < peak < values.size - 1:
        return 0.0
    before, at, after = values[peak - 1:peak + 2]
    return 0.5 * (before - after) / (before - 2 * at + after)


def a_camera(**changed):
    """As much of a camera as files and clocks need."""
    values = {"sample_rate_hz": 48000, "channels": 1, "container": "mp4", "codec": "aac", "pictures_per_s": 10, "sound_lead_s": 0.0,
              "drift_ppm_per_s": 0.0}
    return SimpleNamespace(**(values | changed))


def check_format(folder, container, codec, rate_hz, lead_s):
    """Clicks through one kind of file."""
    camera = a_camera(sample_rate_hz=rate_hz, container=container, codec=codec, sound_lead_s=lead_s, channels=2)
    samples, shape = 0.001 * numpy.random.default_rng(1).standard_normal(6 * rate_hz), click_shape(rate_hz)
    for at_s in (1.0, 4.5):
        samples[int(at_s * rate_hz):int(at_s * rate_hz) + shape.size] += shape
    path = Path(folder, f"click.{container}")
    encode(path, samples, camera, 6.0, 96000 if codec in ("aac", "libmp3lame", "libopus") else None)
    sound, first_s = read_sound(path, READ_RATE_HZ)
    for at_s in (1.0, 4.5):
        found_s = find_click_s(sound, at_s, click_shape(READ_RATE_HZ), READ_RATE_HZ) + first_s
        judge(f"{container} {codec} {rate_hz} Hz, sound {lead_s:+.3f} s, click at {at_s}", found_s - (at_s + lead_s))


def check_formats(folder):
    """Every kind of file that a session may have."""
    for container, codec in FORMATS:
        for rate_hz, lead_s in ((48000, 0.0), (16000, 0.083), (44100, -0.047)):
            check_format(folder, container, codec, 48000 if codec == "libopus" else rate_hz, lead_s)


def check_clock():
    """Clicks through a room, a wrong clock, a drift and a loss."""
    camera = a_camera(sample_rate_hz=44100, sound_lead_s=0.05, drift_ppm_per_s=0.02)
    track, shape, clicks_s = numpy.zeros(100 * SHOP_RATE_HZ, numpy.float32), click_shape(SHOP_RATE_HZ), (12.0, 40.0, 90.0)
    for at_s in clicks_s:
        track[int(at_s * SHOP_RATE_HZ):int(at_s * SHOP_RATE_HZ) + shape.size] += shape
    source, microphone = numpy.array([1.0, 2.0, 1.0]), numpy.array([3.0, 2.5, 1.5])
    response = impulse_response(numpy.random.default_rng(4), Room(numpy.array([7.0, 5.0, 2.6]), 0.5), source, microphone)
    heard = hear([track], [[response]])[0]
    losses = [Loss(30.0, 2.5)]
    pieces, duration_s = lay_pieces(camera, 3.2, 97.0, 87.0, losses)
    recording = Recording("bench", duration_s, pieces, losses)
    samples = sample(ready_to_sample(heard, camera), instants_s(recording, camera))
    travel_s = numpy.linalg.norm(source - microphone) / SOUND_M_PER_S
    for at_s in clicks_s:
        clip_s = find_click_s(samples, at_s - 3.2 - (2.5 if at_s > 33 else 0), click_shape(44100), 44100, 0.4) + camera.sound_lead_s
        judge(f"clock and loss, click at {at_s}", recording.true_s(clip_s) - at_s - travel_s, 0.0003)


def on_true_clock(folder, recording, begin_s, end_s, rate_hz):
    """The sound of a recording's first file between two true seconds, sampled on the true clock."""
    part = recording.parts[0]
    sound, first_s = read_sound(Path(folder, recording.camera, part.file), rate_hz)
    clip_s = numpy.arange(0, part.duration_s, 0.5)
    true_s = numpy.arange(int((end_s - begin_s) * rate_hz)) / rate_hz + begin_s
    wanted_s = numpy.interp(true_s, [recording.true_s(at_s) for at_s in clip_s], clip_s)
    return numpy.interp((wanted_s - first_s) * rate_hz, numpy.arange(sound.size), sound)


def lag_s(one, other, rate_hz):
    """The lag at which two sounds agree best, all frequencies alike."""
    size = 2 * one.size
    cross = numpy.fft.rfft(one, size) * numpy.conj(numpy.fft.rfft(other, size))
    frequency_hz = numpy.fft.rfftfreq(size, 1 / rate_hz)
    match = numpy.fft.irfft(((frequency_hz > 300) & (frequency_hz < 6000)) * cross / (numpy.abs(cross) + 1e-12), size)
    peak = int(numpy.argmax(match))
    return (peak if peak < size // 2 else peak - size) / rate_hz


def check_session(folder):
    """Pairs of files of a small session, decoded and laid on the true clock."""
    for seed in (5, 8):
        truth = make_session(seed, Path(folder, str(seed)), 1.5)
        first, *rest = [recording for recording in truth.recordings if not recording.stranger]
        for other in rest:
            begin_s = max(first.covers_s[0][0], other.covers_s[0][0]) + 1
            end_s = min(first.covers_s[0][1], other.covers_s[0][1], *(recording.true_s(recording.parts[0].duration_s)
                                                                       for recording in (first, other))) - 1
            if end_s - begin_s > 15 and truth.snr_db >= 5:
                sounds = [on_true_clock(Path(folder, str(seed)), recording, begin_s, end_s, READ_RATE_HZ) for recording in (first, other)]
                judge(f"session {seed}, {first.parts[0].file} against {other.parts[0].file} over {end_s - begin_s:.0f} s",
                      lag_s(*sounds, READ_RATE_HZ), FIRST_REFLECTIONS_S)


def main():
    """All checks."""
    with tempfile.TemporaryDirectory() as folder:
        check_formats(folder)
        check_clock()
        check_session(folder)
    print(f"{len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
