"""Writes the files of a recording with the encoder, and reads them back as a player would present them."""

import json
import os
import subprocess
from datetime import timedelta
from pathlib import Path

import numpy
from scipy.io import wavfile

from clocks import reading
from truth import Part

# The encoder in use takes an Opus stream's pre-skip off twice when it writes Matroska; check_simulator.py tells when it no longer does.
OPUS_EARLY_S = 312 / 48000
BITS_PER_S = {"aac": (48000, 96000, 128000), "libmp3lame": (64000, 96000, 128000), "libopus": (48000, 64000, 96000)}


def run(arguments):
    """Runs a program; its words are told if it fails."""
    done = subprocess.run(arguments, capture_output=True, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{arguments[0]} failed: {done.stderr.decode(errors='replace')[-600:]}")
    return done.stdout


def write_sound(path, samples, rate_hz, channels):
    """The samples as a plain 16-bit file for the encoder; a second channel is a little softer."""
    columns = numpy.round(samples * 32000).astype(numpy.int16)
    wavfile.write(path, rate_hz, columns if channels == 1 else numpy.stack([columns, (0.9 * columns).astype(numpy.int16)], axis=1))


def picture_filter(delay_s):
    """Delays the picture between its own frames; the encoder's options for delays would round to them."""
    return f"settb=1/90000,setpts=PTS+{round(90000 * delay_s)}"


def encode(path, samples, camera, duration_s, bits_per_s=None, creation_time=None):
    """One file: a tiny picture, and sound that begins the camera's lead after the first picture."""
    sound = Path(str(path) + ".wav")
    write_sound(sound, samples, camera.sample_rate_hz, camera.channels)
    early_s = OPUS_EARLY_S if camera.codec == "libopus" else 0.0
    picture = f"color=c=gray:s=64x36:r={camera.pictures_per_s}:d={duration_s}"
    command = ["ffmpeg", "-v", "error", "-nostdin", "-y", "-threads", "1"]
    command += ["-itsoffset", str(max(0.0, camera.sound_lead_s) + early_s), "-i", str(sound), "-f", "lavfi", "-i", picture]
    command += ["-map", "1:v", "-map", "0:a"]
    command += ["-vf", picture_filter(max(0.0, -camera.sound_lead_s)), "-vsync", "passthrough", "-enc_time_base", "1:90000"]
    command += ["-c:v", "libx264", "-preset", "ultrafast", "-x264-params", "threads=1", "-g", "50"]
    command += ["-c:a", camera.codec] + (["-b:a", str(bits_per_s)] if bits_per_s else [])
    command += ["-metadata", f"creation_time={creation_time}"] if creation_time else []
    run(command + ["-bitexact", str(path)])
    sound.unlink()


def file_name(camera, number, part, parts):
    """A name as cameras give it."""
    suffix = "" if parts == 1 else f"_{part + 1:02d}"
    return f"{camera.file_prefix}{number:04d}{suffix}.{camera.container.upper() if camera.first_number % 2 else camera.container}"


def stamp_text(moment):
    """A moment as metadata has it, in whole seconds."""
    return None if moment is None else moment.strftime("%Y-%m-%dT%H:%M:%S.000000Z")


def set_file_time(path, moment, copied):
    """The file's own time: the camera's at the end of writing, or that of the copy."""
    seconds = (moment or copied).timestamp()
    os.utime(path, (seconds, seconds))


def part_edges(recording):
    """The clip times where files begin and end."""
    return [0.0] + [loss.clip_at_s for loss in recording.losses if loss.between_parts] + [recording.duration_s]


def write_recording(folder, samples, recording, camera, number, index, began, keeps_file_times, bits_per_s):
    """Writes all parts of a recording and notes them in it."""
    edges, rate_hz = part_edges(recording), camera.sample_rate_hz
    copied = began + timedelta(days=1)
    restarted_s = recording.true_s(0.0)
    for part, (begin_s, end_s) in enumerate(zip(edges, edges[1:])):
        name = file_name(camera, number, part, len(edges) - 1)
        first, last = (reading(camera.clock, began, recording.true_s(at_s), index, restarted_s) for at_s in (begin_s, end_s))
        stamp = stamp_text(last if camera.clock.stamps_end else first)
        path = Path(folder, name)
        encode(path, samples[int(round(begin_s * rate_hz)):int(round(end_s * rate_hz))], camera, end_s - begin_s, bits_per_s, stamp)
        set_file_time(path, last if keeps_file_times else None, copied)
        recording.parts.append(Part(name, begin_s, end_s - begin_s, stamp))


def first_presented_s(path, stream):
    """When the first picture or sound of a file is presented."""
    rows = run(["ffprobe", "-v", "error", "-select_streams", stream, "-read_intervals", "%+2", "-show_entries", "frame=pts_time", "-of", "json",
                str(path)])
    return min(float(row["pts_time"]) for row in json.loads(rows)["frames"])


def read_sound(path, rate_hz):
    """The sound of a file, and the clip time of its first sample."""
    raw = run(["ffmpeg", "-v", "error", "-nostdin", "-i", str(path), "-map", "a:0", "-ac", "1", "-ar", str(rate_hz), "-f", "f32le", "-"])
    return numpy.frombuffer(raw, numpy.float32), first_presented_s(path, "a:0") - first_presented_s(path, "v:0")
