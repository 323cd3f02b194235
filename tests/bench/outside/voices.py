"""Talk: pulses of a voice shaped by formants, in syllables. No words, but a rhythm, a pitch and vowels.

From common practice: pitch 85..230 Hz, 3.5..6 syllables a second, three formants a vowel, a burst of noise before two in three syllables.
A phrase is a seed: said again it has the same syllables at another pace (+-6 %).
"""

import numpy
from scipy import signal

from sounds import SHOP_RATE_HZ, band_noise, peak_at, time_axis

VOWELS_HZ = ((730, 1090, 2440), (270, 2290, 3010), (300, 870, 2240), (530, 1840, 2480), (570, 840, 2410), (490, 1350, 1690), (660, 1720, 2410))


def resonate(samples, formants_hz, scale):
    """The pulses behind a mouth with these formants."""
    shaped = numpy.zeros_like(samples)
    for formant_hz, bandwidth_hz, gain in zip(formants_hz, (80, 110, 160), (1.0, 0.6, 0.3)):
        radius = numpy.exp(-numpy.pi * bandwidth_hz / SHOP_RATE_HZ)
        angle = 2 * numpy.pi * formant_hz * scale / SHOP_RATE_HZ
        shaped += gain * signal.lfilter([1 - radius], [1, -2 * radius * numpy.cos(angle), radius * radius], samples)
    return shaped


def pulses(generator, length_s, pitch_hz, glide):
    """The voice before the mouth: pulses whose pitch glides, and some breath."""
    time_s = time_axis(length_s)
    turns = numpy.cumsum(pitch_hz * (1 + glide * time_s / time_s[-1])) / SHOP_RATE_HZ
    train = numpy.diff(numpy.floor(turns), prepend=0)
    return train + 0.01 * generator.standard_normal(time_s.size)


def syllable(generator, pitch_hz, scale, pace):
    """One syllable: mostly a consonant's noise, then a vowel."""
    length_s = generator.uniform(0.1, 0.24) / pace
    vowel = resonate(pulses(generator, length_s, pitch_hz, generator.uniform(-0.25, 0.1)), VOWELS_HZ[generator.integers(len(VOWELS_HZ))], scale)
    vowel = peak_at(vowel * numpy.hanning(vowel.size) ** 0.5, generator.uniform(0.5, 1.0))
    low_hz, noise_s = generator.uniform(1500, 4500), generator.uniform(0.02, 0.09)
    hiss = band_noise(generator, noise_s, low_hz, low_hz * 1.8)
    hiss = peak_at(hiss * numpy.hanning(hiss.size), generator.choice([0.0, 0.15, 0.3]))
    return numpy.concatenate([hiss, vowel, numpy.zeros(int(generator.uniform(0.0, 0.08) * SHOP_RATE_HZ))])


def say(phrase_seed, voice_seed, pace):
    """A phrase of 3..22 syllables by one voice; the same seeds and pace give the same samples."""
    voice = numpy.random.default_rng(voice_seed)
    pitch_hz, scale = voice.uniform(85, 230), voice.uniform(0.9, 1.15)
    phrase = numpy.random.default_rng(phrase_seed)
    parts = [syllable(phrase, pitch_hz * phrase.uniform(0.85, 1.2), scale, pace) for _ in range(phrase.integers(3, 23))]
    return peak_at(numpy.concatenate(parts), 0.12)
