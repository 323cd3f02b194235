"""A radio: songs with beat, bass, chords and melody, and somebody who talks between them.

A song is a seed, so that the same song on another day is the same to the sample, as broadcast music is. From common practice: 84..132 beats a
minute, four-bar chord progressions, 8-bar verses and choruses that repeat exactly, 130..210 s long, talk of 3..12 s between songs.
"""

from functools import lru_cache

import numpy
from scipy import signal

from sounds import SHOP_RATE_HZ, band_noise, peak_at, ring, time_axis, Modes
from voices import say

PROGRESSIONS = ((0, 7, 9, 5), (0, 5, 7, 5), (9, 5, 0, 7), (0, 9, 5, 7), (2, 7, 0, 0))
SCALE = (0, 2, 4, 7, 9, 12, 14, 16)
BARS_PER_SECTION = 8


def pitch_hz(half_tones):
    """The pitch that many half tones over a low A."""
    return 110.0 * 2 ** (half_tones / 12)


def note(half_tones, length_s, brightness):
    """A plucked note."""
    time_s = time_axis(length_s)
    partials = sum(brightness ** (order - 1) * numpy.sin(2 * numpy.pi * order * pitch_hz(half_tones) * time_s) for order in range(1, 6))
    return partials * numpy.exp(-1.5 * time_s / length_s) * numpy.minimum(1, time_s / 0.005) * numpy.minimum(1, (length_s - time_s) / 0.01)


def put(track, at_s, samples, gain):
    """Adds a sound to a track, as far as it fits."""
    first = int(round(at_s * SHOP_RATE_HZ))
    room = max(0, min(samples.size, track.size - first))
    track[first:first + room] += gain * samples[:room]


def drums(generator, track, beat_s):
    """Kick, snare and hat, the same in every bar."""
    kick = ring(Modes(numpy.array([55.0, 90.0]), numpy.array([0.08, 0.03]), numpy.array([1.0, 0.6])), 0.3)
    snare, hat = (band_noise(generator, 0.15, 900, 8000), band_noise(generator, 0.05, 6000, 14000))
    snare, hat = snare * numpy.exp(-25 * time_axis(0.15)), hat * numpy.exp(-80 * time_axis(0.05))
    for beat in range(4 * BARS_PER_SECTION):
        put(track, beat * beat_s, kick if beat % 2 == 0 else snare, 0.8)
        put(track, beat * beat_s, hat, 0.3)
        put(track, (beat + 0.5) * beat_s, hat, 0.2)


def harmony(track, key, progression, beat_s):
    """Bass and chords, a chord a bar."""
    for bar in range(BARS_PER_SECTION):
        root = key + progression[bar % 4]
        for beat in range(4):
            put(track, (4 * bar + beat) * beat_s, note(root - 12, beat_s, 0.4), 0.5)
        for step in (0, 4, 7):
            put(track, 4 * bar * beat_s, note(root + 12 + step, 4 * beat_s, 0.5), 0.25)


def melody(generator, track, key, beat_s):
    """A tune of eighths and quarters."""
    at_beat = 0.0
    while at_beat < 4 * BARS_PER_SECTION:
        length = generator.choice([0.5, 0.5, 1.0, 1.5, 2.0])
        if generator.random() < 0.8:
            put(track, at_beat * beat_s, note(key + 24 + generator.choice(SCALE), length * beat_s, 0.6), 0.45)
        at_beat += length


def section(generator, key, progression, beat_s, with_tune):
    """Eight bars; a verse or a chorus."""
    track = numpy.zeros(int(round(4 * BARS_PER_SECTION * beat_s * SHOP_RATE_HZ)))
    drums(generator, track, beat_s)
    harmony(track, key, progression, beat_s)
    if with_tune:
        melody(generator, track, key, beat_s)
    return track


@lru_cache(maxsize=4)
def song(seed):
    """A whole song; the last ones are kept, since a radio repeats itself."""
    generator = numpy.random.default_rng(seed)
    beat_s, key = 60 / generator.uniform(84, 132), int(generator.integers(0, 12))
    first, second = (PROGRESSIONS[index] for index in generator.choice(len(PROGRESSIONS), 2, replace=False))
    parts = {"i": section(generator, key, first, beat_s, False), "v": section(generator, key, first, beat_s, True),
             "c": section(generator, key, second, beat_s, True)}
    order = generator.choice(["ivvcvcc", "ivcvcvcc", "vvcvvcic", "ivcvcc"])
    whole = numpy.concatenate([parts[letter] for letter in order])
    return peak_at(whole[:int(generator.uniform(130, 210) * SHOP_RATE_HZ)], 1.0)


def through_loudspeaker(samples):
    """A small shop radio: no bass, no brilliance."""
    return signal.sosfilt(signal.butter(2, [140, 7500], "bandpass", fs=SHOP_RATE_HZ, output="sos"), samples)


def programme(generator, song_seeds, length_s):
    """What the radio plays for that long: the songs in turn from somewhere in the first one, talk between. Returns samples and who plays when."""
    track, played = numpy.zeros(time_axis(length_s).size), []
    at_s, turn = -generator.uniform(0, 90), 0
    while at_s < length_s:
        seed = song_seeds[turn % len(song_seeds)]
        music = song(seed)
        skipped = int(max(0, -at_s) * SHOP_RATE_HZ)
        put(track, max(0, at_s), music[skipped:], 1.0)
        played.append({"song": int(seed), "begin_s": round(at_s, 6)})
        at_s += music.size / SHOP_RATE_HZ + 0.5
        talk = say(int(generator.integers(2**31)), 77, 1.0)
        if at_s > 0:
            put(track, at_s, talk, 5.0)
        at_s, turn = at_s + talk.size / SHOP_RATE_HZ + generator.uniform(0.5, 6), turn + 1
    return peak_at(through_loudspeaker(track), 1.0), played
