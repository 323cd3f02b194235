"""A room: how a sound at one place arrives at a microphone at another.

Made here from textbook acoustics: a shoebox 5..9 m x 4..7 m x 2.4..3.2 m with RT60 0.3..0.9 s, the direct sound and image sources up to the second
order with their delays, then noise that decays exponentially at the level that the room's critical distance asks for.
One in eight direct paths is blocked by a person or a sheet (-6..-14 dB).
"""

import itertools
from dataclasses import dataclass

import numpy
from scipy import fft, signal

from sounds import SHOP_RATE_HZ

SOUND_M_PER_S = 343.0
FILTER_TAPS = 33
BLOCK = 1 << 17


@dataclass
class Room:
    """A shoebox and how long it rings."""

    size_m: numpy.ndarray
    reverberation_s: float

    @property
    def critical_distance_m(self):
        """Where the room is as loud as the source itself."""
        return 0.057 * numpy.sqrt(self.size_m.prod() / self.reverberation_s)

    @property
    def reflection(self):
        """How much pressure a wall gives back, by Eyring's formula."""
        length, width, height = self.size_m
        surface = 2 * (length * width + length * height + width * height)
        return numpy.exp(-0.161 * self.size_m.prod() / (surface * self.reverberation_s) / 2)


def draw_room(generator):
    """A garage or a barn."""
    return Room(numpy.array([generator.uniform(5, 9), generator.uniform(4, 7), generator.uniform(2.4, 3.2)]), generator.uniform(0.3, 0.9))


def place_near(generator, room, others, nearest_m, farthest_m):
    """A place in the room whose distance to each of the others lies within bounds, as nearly as some tries give."""
    best, best_excess = None, numpy.inf
    for _ in range(400):
        place = generator.uniform([0.3, 0.3, 0.6], room.size_m - [0.3, 0.3, 0.5])
        distances = [numpy.linalg.norm(place - other) for other in others]
        excess = sum(max(0, nearest_m - distance) + max(0, distance - farthest_m) for distance in distances)
        if excess < best_excess:
            best, best_excess = place, excess
        if excess == 0:
            break
    return best


def add_arrival(response, delay_s, gain):
    """Adds an arrival at its exact delay, between samples too."""
    at = delay_s * SHOP_RATE_HZ
    first = int(round(at)) - FILTER_TAPS // 2
    offsets = numpy.arange(FILTER_TAPS) + first - at
    taps = gain * numpy.sinc(offsets) * numpy.cos(numpy.pi * offsets / (FILTER_TAPS + 1)) ** 2
    inside = slice(max(0, -first), max(0, min(FILTER_TAPS, response.size - first)))
    response[first + inside.start:first + inside.stop] += taps[inside]


def axis_images(position, size):
    """The images of one coordinate behind a pair of walls, with how often each was reflected."""
    return [(position, 0), (-position, 1), (2 * size - position, 1), (position + 2 * size, 2), (position - 2 * size, 2)]


def add_images(response, room, source, microphone, direct_gain):
    """The direct sound and the first reflections."""
    images = [axis_images(position, size) for position, size in zip(source, room.size_m)]
    for (x, hits_x), (y, hits_y), (z, hits_z) in itertools.product(*images):
        hits = hits_x + hits_y + hits_z
        if hits <= 2:
            distance_m = max(0.3, numpy.linalg.norm(numpy.array([x, y, z]) - microphone))
            add_arrival(response, distance_m / SOUND_M_PER_S, (direct_gain if hits == 0 else room.reflection ** hits) / distance_m)


def reverberation(generator, room, from_s, length):
    """The tail: noise that fades, dull as walls and air make it."""
    time_s = numpy.arange(length) / SHOP_RATE_HZ
    tail = signal.lfilter([0.4], [1, -0.6], generator.standard_normal(length)) * numpy.exp(-6.91 * time_s / room.reverberation_s)
    tail[time_s < from_s] = 0
    return tail / (numpy.linalg.norm(tail) * room.critical_distance_m)


def impulse_response(generator, room, source, microphone):
    """How a click at the source is heard at the microphone; index zero is the instant of the click."""
    response = numpy.zeros(int((0.85 * room.reverberation_s + 0.05) * SHOP_RATE_HZ))
    blocked = generator.random() < 0.125
    add_images(response, room, source, microphone, 10 ** (-generator.uniform(6, 14) / 20) if blocked else 1.0)
    direct_s = numpy.linalg.norm(source - microphone) / SOUND_M_PER_S
    response += reverberation(generator, room, direct_s + 0.02, response.size)
    return response.astype(numpy.float32)


def hear(tracks, responses):
    """What each microphone hears: the sum over sources of each track through responses[microphone][source].

    Each track is transformed once and summed among the spectra, which makes the cost nearly that of one convolution a microphone.
    """
    longest = max(response.size for row in responses for response in row)
    spectra = [[fft.rfft(response, BLOCK) for response in row] for row in responses]
    hop, length = BLOCK - longest, tracks[0].size
    heard = [numpy.zeros(length + BLOCK, numpy.float32) for _ in responses]
    for first in range(0, length, hop):
        blocks = [fft.rfft(track[first:first + hop], BLOCK) for track in tracks]
        for row, output in zip(spectra, heard):
            output[first:first + BLOCK] += fft.irfft(sum(block * spectrum for block, spectrum in zip(blocks, row)), BLOCK)
    return [output[:length] for output in heard]
