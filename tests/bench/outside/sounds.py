"""The sounds of tools in a metal shop, each as mono samples at SHOP_RATE_HZ with a peak of about its level at one metre.

Ranges come from memory of such shops and from common practice, not from a source:
rivet gun 20..45 blows/s with 1..4 % jitter for 0.5..3.5 s; sheet modes 300..7000 Hz that ring 4..40 ms; squeezer clunks with air;
air drill 0.4..2.5 s, 350..900 Hz blade tone; file strokes 1..2.2/s; dropped tools with 2..6 bounces that ring 30..250 ms.
"""

from dataclasses import dataclass

import numpy
from scipy import signal

SHOP_RATE_HZ = 32000


@dataclass
class Modes:
    """The frequencies in which one thing rings, how long and how loudly each."""

    frequency_hz: numpy.ndarray
    decay_s: numpy.ndarray
    gain: numpy.ndarray


def time_axis(length_s):
    """The instants of the samples of a sound of that length."""
    return numpy.arange(max(1, int(round(length_s * SHOP_RATE_HZ)))) / SHOP_RATE_HZ


def peak_at(samples, level):
    """The sound scaled so that its loudest sample is at the level."""
    return (samples * (level / max(1e-9, numpy.abs(samples).max()))).astype(numpy.float32)


def band_noise(generator, length_s, low_hz, high_hz):
    """Noise between two frequencies."""
    filter_sections = signal.butter(2, [low_hz, min(high_hz, 0.48 * SHOP_RATE_HZ)], "bandpass", fs=SHOP_RATE_HZ, output="sos")
    return signal.sosfilt(filter_sections, generator.standard_normal(time_axis(length_s).size))


def draw_modes(generator, count, low_hz, high_hz, shortest_s, longest_s):
    """Modes at frequencies spread evenly in pitch."""
    frequency_hz = numpy.exp(generator.uniform(numpy.log(low_hz), numpy.log(high_hz), count))
    return Modes(frequency_hz, generator.uniform(shortest_s, longest_s, count), generator.uniform(0.3, 1.0, count))


def vary_modes(generator, modes, share):
    """Nearly the same thing, struck at another place."""
    count = modes.gain.size
    return Modes(modes.frequency_hz * (1 + share * 0.1 * generator.standard_normal(count)), modes.decay_s,
                 modes.gain * (1 + share * generator.standard_normal(count)))


def ring(modes, length_s):
    """What one blow sounds like on a thing with these modes."""
    time_s = time_axis(length_s)[:, None]
    return (modes.gain * numpy.exp(-time_s / modes.decay_s) * numpy.sin(2 * numpy.pi * modes.frequency_hz * time_s)).sum(axis=1)


def strike_at(times_s, strengths, one_blow):
    """One blow repeated at times, each with its strength."""
    train = numpy.zeros(int(times_s[-1] * SHOP_RATE_HZ) + 2)
    numpy.add.at(train, (times_s * SHOP_RATE_HZ).astype(int), strengths)
    return signal.fftconvolve(train, one_blow)


@dataclass
class Burst:
    """How one rivet was driven, so that another can be driven alike."""

    gaps_s: numpy.ndarray
    modes: Modes


def draw_burst(generator, gun_modes):
    """A new rivet: another spot of the sheet, another hold on the trigger."""
    blows_per_s, jitter = generator.uniform(20, 45), generator.uniform(0.01, 0.04)
    count = max(6, int(generator.uniform(0.5, 3.5) * blows_per_s))
    gaps_s = (1 + jitter * generator.standard_normal(count)) / blows_per_s
    gaps_s[:3] *= [1.5, 1.25, 1.1]
    return Burst(numpy.abs(gaps_s), vary_modes(generator, gun_modes, 0.25))


def alike(generator, burst):
    """The next rivet of the same row: nearly the same blows on nearly the same spot."""
    return Burst(burst.gaps_s * (1 + 0.003 * generator.standard_normal(burst.gaps_s.size)), vary_modes(generator, burst.modes, 0.05))


def rivet_burst(generator, burst):
    """The blows of a rivet gun with its exhaust."""
    times_s = numpy.cumsum(burst.gaps_s)
    blows = strike_at(times_s, generator.uniform(0.8, 1.0, times_s.size), ring(burst.modes, 0.12))
    exhaust = band_noise(generator, blows.size / SHOP_RATE_HZ, 1500, 9000)[:blows.size]
    return peak_at(blows / numpy.abs(blows).max() + 0.03 * exhaust, 1.0)


def squeezer(generator, clunk_modes):
    """Air in, the clunk of the yoke, air out."""
    fill_s, vent_s = generator.uniform(0.15, 0.35), generator.uniform(0.1, 0.3)
    clunk = ring(vary_modes(generator, clunk_modes, 0.1), 0.25)
    fill = band_noise(generator, fill_s, 1200, 8000) * numpy.linspace(0.02, 0.08, time_axis(fill_s).size)
    vent = band_noise(generator, vent_s, 900, 9000) * numpy.linspace(0.15, 0.01, time_axis(vent_s).size)
    return peak_at(numpy.concatenate([fill, clunk / numpy.abs(clunk).max(), vent]), 0.5)


def drill(generator):
    """An air drill that spins up, is loaded, breaks through and stops."""
    time_s = time_axis(generator.uniform(0.4, 2.5))
    share = time_s / time_s[-1]
    blade_hz = generator.uniform(350, 900) * numpy.minimum(1, 8 * share) * (1 - 0.25 * numpy.sin(numpy.pi * share) ** 2)
    phase = 2 * numpy.pi * numpy.cumsum(blade_hz) / SHOP_RATE_HZ
    whine = sum(numpy.sin(phase * harmonic + harmonic) / harmonic for harmonic in (1, 2, 3, 5))
    chips = band_noise(generator, time_s[-1] + 1e-3, 1500, 11000)[:time_s.size] * numpy.sin(numpy.pi * share)
    return peak_at((whine + 1.5 * chips) * numpy.minimum(1, 12 * (1 - share)) * numpy.minimum(1, 12 * share), 0.35)


def filing(generator):
    """Strokes of a file on sheet edge for 3..15 s."""
    length_s, strokes_per_s = generator.uniform(3, 15), generator.uniform(1.0, 2.2)
    rasp = band_noise(generator, length_s, 900, generator.uniform(4000, 8000))
    wobble = 0.08 * numpy.cumsum(generator.standard_normal(rasp.size)) / numpy.sqrt(SHOP_RATE_HZ)
    stroke = numpy.maximum(0, numpy.sin(2 * numpy.pi * strokes_per_s * time_axis(length_s) + 6 * wobble[:rasp.size])) ** 0.7
    return peak_at(rasp * stroke, 0.15)


def dropped_tool(generator):
    """Something falls on a concrete floor and bounces."""
    bounces = generator.integers(2, 7)
    times_s = 0.01 + numpy.cumsum(generator.uniform(0.08, 0.35) * generator.uniform(0.45, 0.75) ** numpy.arange(bounces))
    strengths = generator.uniform(0.6, 0.85) ** numpy.arange(bounces)
    return peak_at(strike_at(times_s, strengths, ring(draw_modes(generator, 6, 1200, 9500, 0.03, 0.25), 0.7)), 0.5)


def punch(generator):
    """A tap of a hammer, a punch, a clamp put down."""
    return peak_at(ring(draw_modes(generator, 5, 500, 8000, 0.005, 0.06), 0.3), generator.uniform(0.1, 0.4))


def compressor(generator, length_s, turns_per_s):
    """A piston compressor: the same stroke again and again, hardly changing."""
    stroke = ring(draw_modes(generator, 8, 60, 1800, 0.01, 0.05), 0.2)
    count = max(2, int(length_s * turns_per_s))
    times_s = (numpy.arange(count) + 0.002 * generator.standard_normal(count)) / turns_per_s
    strokes = strike_at(numpy.maximum(0, times_s), generator.uniform(0.95, 1.0, count), stroke)
    hum = numpy.sin(2 * numpy.pi * 100 * time_axis(strokes.size / SHOP_RATE_HZ))[:strokes.size]
    return peak_at(strokes / numpy.abs(strokes).max() + 0.1 * hum, 0.25)


def fan(generator, length_s):
    """A steady fan: broad noise with a blade tone."""
    noise = signal.lfilter([1], [1, -0.97], generator.standard_normal(time_axis(length_s).size).astype(numpy.float32))
    tone = numpy.sin(2 * numpy.pi * generator.uniform(80, 160) * time_axis(length_s))
    return peak_at(noise + 1.0 * tone, 0.03)
