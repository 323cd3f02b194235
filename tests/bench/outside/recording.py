"""From what a microphone hears to the samples that a camera writes: its clock, its losses, its noise, its gain.

Drawn, from memory: camera noise at the session's ratio +-2 dB, against the level that 70 % of the seconds stay below; wind in one of five cameras,
knocks at the camera 0..1 a minute; gain automatic in 70 % (10..100 ms up, 0.8..4 s back), else fixed so that the loudest sounds may clip.
"""

import numpy
from scipy import ndimage, signal

from sounds import SHOP_RATE_HZ

GAIN_BLOCK_S = 0.01
LEVEL_PERCENTILE = 70
WANTED_LEVEL = 0.1
MOST_GAIN = 300.0


def session_level(heard):
    """The level that 70 % of a microphone's seconds stay below."""
    seconds = heard[:heard.size // SHOP_RATE_HZ * SHOP_RATE_HZ].reshape(-1, SHOP_RATE_HZ)
    return float(numpy.sqrt(numpy.percentile(numpy.mean(seconds.astype(numpy.float64) ** 2, axis=1), LEVEL_PERCENTILE)))


def ready_to_sample(heard, camera):
    """What a microphone hears, as spline coefficients below half of the camera's sample rate; the filter delays nothing."""
    if camera.sample_rate_hz < SHOP_RATE_HZ:
        heard = signal.fftconvolve(heard, signal.firwin(161, 0.45 * camera.sample_rate_hz, fs=SHOP_RATE_HZ).astype(numpy.float32), "same")
    return ndimage.spline_filter1d(heard, order=3, output=numpy.float32)


def instants_s(recording, camera):
    """The true second of every sample of a recording, from the first to the last one."""
    first, last = (int(round(clip_s * camera.sample_rate_hz)) for clip_s in (0.0, recording.duration_s))
    clip_s = camera.sound_lead_s + numpy.arange(first, last) / camera.sample_rate_hz
    inner_ends = [piece.clip_to_s for piece in recording.pieces[:-1]]
    cuts = [0, *numpy.searchsorted(clip_s, inner_ends), clip_s.size]
    return numpy.concatenate([piece.true_s(clip_s[begin:end]) for piece, begin, end in zip(recording.pieces, cuts, cuts[1:])])


def sample(coefficients, times_s):
    """The sound at true seconds, between samples too."""
    return ndimage.map_coordinates(coefficients, [times_s * SHOP_RATE_HZ], order=3, prefilter=False, output=numpy.float32, mode="constant")


def camera_noise(generator, microphone, count, level):
    """The camera's own noise: some of it dull, some bright."""
    white = generator.standard_normal(count, numpy.float32)
    dull = signal.lfilter(numpy.float32([1]), numpy.float32([1, -microphone.colour]), white)
    noise = dull / dull.std() + 0.4 * white
    return noise * numpy.float32(level / noise.std())


def gusts(generator, count, rate_hz, level):
    """Wind at the camera: a rumble that comes and goes."""
    points = generator.uniform(-2, 1, max(2, int(count / rate_hz / 1.5)))
    strength = numpy.maximum(0, numpy.interp(numpy.linspace(0, points.size - 1, count), numpy.arange(points.size), points))
    rumble = signal.sosfilt(signal.butter(2, [20, 250], "bandpass", fs=rate_hz, output="sos"), generator.standard_normal(count))
    return (level / rumble.std() * rumble * strength).astype(numpy.float32)


def knock(generator, rate_hz, level):
    """A hand at the camera: a thump and some rustling."""
    time_s = numpy.arange(int(generator.uniform(0.3, 1.5) * rate_hz)) / rate_hz
    thump = numpy.exp(-time_s / 0.05) * numpy.sin(2 * numpy.pi * generator.uniform(40, 150) * time_s)
    rustle = generator.standard_normal(time_s.size) * numpy.exp(-3 * time_s) * 0.2
    return (level * generator.uniform(2, 20) * (thump + rustle)).astype(numpy.float32)


def add_local_sounds(generator, samples, camera, level, noise_level):
    """What only this camera hears."""
    microphone = camera.microphone
    samples += camera_noise(generator, microphone, samples.size, noise_level)
    if microphone.wind > 0:
        samples += gusts(generator, samples.size, camera.sample_rate_hz, microphone.wind * level)
    for _ in range(generator.poisson(microphone.bumps_per_minute * samples.size / camera.sample_rate_hz / 60)):
        bump = knock(generator, camera.sample_rate_hz, level)
        first = int(generator.integers(max(1, samples.size - bump.size)))
        samples[first:first + bump.size] += bump[:samples.size - first]


def gain_steps(levels, microphone):
    """The automatic gain in each block: quickly down, slowly up."""
    down, up = numpy.exp(-GAIN_BLOCK_S / microphone.attack_s), numpy.exp(-GAIN_BLOCK_S / microphone.release_s)
    gains, gain = numpy.empty(levels.size), WANTED_LEVEL / levels[:100].max()
    for index, wanted in enumerate(numpy.minimum(MOST_GAIN, WANTED_LEVEL / levels)):
        share = down if wanted < gain else up
        gain = share * gain + (1 - share) * wanted
        gains[index] = gain
    return gains


def automatic_gain(samples, rate_hz, microphone):
    """The samples under a gain that follows their level."""
    block = int(GAIN_BLOCK_S * rate_hz)
    count = max(1, samples.size // block)
    levels = numpy.sqrt(numpy.mean(samples[:count * block].reshape(count, block) ** 2, axis=1)) + 1e-7
    gains = gain_steps(levels.astype(float), microphone)
    return samples * numpy.interp(numpy.arange(samples.size), (numpy.arange(count) + 0.5) * block, gains).astype(numpy.float32)


def fixed_gain(samples, level, microphone):
    """A gain that somebody once set; the loudest sounds may clip."""
    return samples * numpy.float32(0.05 * microphone.peak_gain / level)


def samples_of(generator, coefficients, recording, camera, level, snr_db):
    """All samples of a recording, full scale one."""
    samples = sample(coefficients, instants_s(recording, camera))
    noise_level = level * 10 ** ((camera.microphone.noise_over_session_db - snr_db) / 20)
    add_local_sounds(generator, samples, camera, level, noise_level)
    low_cut = signal.butter(1, camera.microphone.low_cut_hz, "highpass", fs=camera.sample_rate_hz)
    samples = signal.lfilter(*(taps.astype(numpy.float32) for taps in low_cut), samples)
    if camera.microphone.gain_is_automatic:
        samples = automatic_gain(samples, camera.sample_rate_hz, camera.microphone)
    else:
        samples = fixed_gain(samples, level, camera.microphone)
    return numpy.clip(samples, -1, 1)
