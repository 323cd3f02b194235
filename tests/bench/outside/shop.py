"""A shop and what happens in it on one day: tracks of sound, a track a place, and the list of what happened when.

The shop (room, tools, places, songs of its radio's station) comes from a seed of its own, so that another day can be another day of the same shop.
Drawn, from memory of such days: activities of 20..120 s (riveting, squeezing, drilling, filing, layout, pause); of the bursts 30 % like the one
before; talk in half of the activities, a repeated phrase in one of four; radio on 60 % of the days at 0.01..0.2 of a burst's peak; a compressor on
60 % of the days, 25..80 s on, 50..200 s off, 7..14 strokes/s; a fan on half of the days.
"""

from dataclasses import dataclass, field

import numpy

import sounds
from radio import programme, put
from room import draw_room, place_near
from sounds import SHOP_RATE_HZ
from voices import say

WORK_PLACES = 3
RADIO, COMPRESSOR, FAN = 3, 4, 5
ACTIVITIES = ("riveting", "squeezing", "drilling", "filing", "layout", "pause")
ACTIVITY_SHARES = (0.3, 0.15, 0.18, 0.1, 0.17, 0.1)


@dataclass
class Shop:
    """What stays from day to day."""

    room: object
    places: list
    gun_modes: sounds.Modes
    clunk_modes: sounds.Modes
    song_seeds: list
    strokes_per_s: float


@dataclass
class Day:
    """What is heard on one day before any room: a track a place, and what made it."""

    tracks: list
    events: list = field(default_factory=list)
    songs: list = field(default_factory=list)

    def add(self, place, kind, at_s, samples, gain=1.0):
        """Something is heard at a place."""
        put(self.tracks[place], at_s, samples, gain)
        self.events.append([kind, round(at_s, 3), round(at_s + samples.size / SHOP_RATE_HZ, 3)])


def draw_shop(seed):
    """A shop from its own seed."""
    generator = numpy.random.default_rng(seed)
    room = draw_room(generator)
    bench = place_near(generator, room, [room.size_m / 2], 0.2, 1.5)
    places = [bench] + [place_near(generator, room, [bench], 0.8, 3.0) for _ in range(WORK_PLACES - 1)]
    places += [place_near(generator, room, [bench], 1.0, 4.5) for _ in range(3)]
    gun = sounds.draw_modes(generator, 14, 300, 7000, 0.004, 0.04)
    clunk = sounds.draw_modes(generator, 8, 80, 2500, 0.01, 0.06)
    return Shop(room, places, gun, clunk, [int(seed) for seed in generator.integers(2**31, size=4)], generator.uniform(7, 14))


class Worker:
    """Does one activity after another at changing places, and fills the day's tracks."""

    def __init__(self, generator, shop, day):
        self.generator, self.shop, self.day = generator, shop, day
        self.place, self.burst, self.phrase = 0, None, int(generator.integers(2**31))

    def next_burst(self):
        """Another rivet, in one of three cases like the one before."""
        if self.burst is not None and self.generator.random() < 0.3:
            return sounds.alike(self.generator, self.burst)
        return sounds.draw_burst(self.generator, self.shop.gun_modes)

    def sound_of(self, activity):
        """One sound of an activity and how long it takes until the next."""
        generator = self.generator
        if activity == "riveting":
            self.burst = self.next_burst()
            return sounds.rivet_burst(generator, self.burst), generator.uniform(3, 12)
        if activity == "squeezing":
            return sounds.squeezer(generator, self.shop.clunk_modes), generator.uniform(3, 10)
        if activity == "drilling":
            return sounds.drill(generator), generator.uniform(1, 6)
        if activity == "filing":
            return sounds.filing(generator), generator.uniform(1, 6)
        return (sounds.dropped_tool if generator.random() < 0.3 else sounds.punch)(generator), generator.uniform(2, 14)

    def do(self, activity, begin_s, end_s):
        """Works from begin to end; a pause has no sounds."""
        at_s = begin_s + self.generator.uniform(0, 4)
        while activity != "pause" and at_s < end_s:
            samples, rest_s = self.sound_of(activity)
            self.day.add(self.place, activity, at_s, samples)
            at_s += samples.size / SHOP_RATE_HZ + rest_s

    def talk(self, begin_s, end_s, voice_seed):
        """Says things now and then."""
        at_s = begin_s + self.generator.uniform(0, 6)
        while at_s < end_s:
            again = self.generator.random() < 0.25
            phrase = self.phrase if again else int(self.generator.integers(2**31))
            samples = say(phrase, voice_seed, self.generator.uniform(0.94, 1.06))
            self.day.add(self.place, "talk", at_s, samples)
            at_s += samples.size / SHOP_RATE_HZ + self.generator.uniform(0.7, 9)

    def work(self, length_s):
        """The whole day's work."""
        at_s, voices = 0.0, self.generator.integers(2**31, size=2)
        while at_s < length_s:
            end_s = min(length_s, at_s + self.generator.uniform(20, 120))
            if self.generator.random() < 0.4:
                self.place = int(self.generator.integers(WORK_PLACES))
            self.do(self.generator.choice(ACTIVITIES, p=ACTIVITY_SHARES), at_s, end_s)
            if self.generator.random() < 0.45:
                self.talk(at_s, end_s, int(self.generator.choice(voices)))
            at_s = end_s


def run_compressor(generator, shop, day, length_s):
    """Fills the tank, waits, fills it again."""
    at_s = generator.uniform(-60, 100)
    while at_s < length_s:
        on_s = generator.uniform(25, 80)
        if at_s >= 0:
            day.add(COMPRESSOR, "compressor", at_s, sounds.compressor(generator, on_s, shop.strokes_per_s))
        at_s += on_s + generator.uniform(50, 200)


def play_radio(generator, day, song_seeds, length_s):
    """The radio at a level for the whole day."""
    samples, day.songs = programme(generator, song_seeds, length_s)
    put(day.tracks[RADIO], 0, samples, 10 ** generator.uniform(-2.0, -0.7))


def songs_of_day(generator, shop):
    """What is played: the station's songs from one of them on; on one day of four two of them in turn."""
    turn = int(generator.integers(len(shop.song_seeds)))
    order = shop.song_seeds[turn:] + shop.song_seeds[:turn]
    return order[:2] if generator.random() < 0.25 else order


def draw_day(generator, shop, length_s, radio_share=0.6):
    """A day in the shop."""
    day = Day([numpy.zeros(int(length_s * SHOP_RATE_HZ), numpy.float32) for _ in shop.places])
    Worker(generator, shop, day).work(length_s)
    if generator.random() < radio_share:
        play_radio(generator, day, songs_of_day(generator, shop), length_s)
    if generator.random() < 0.6:
        run_compressor(generator, shop, day, length_s)
    if generator.random() < 0.5:
        put(day.tracks[FAN], 0, sounds.fan(generator, length_s), generator.uniform(0.3, 1.0))
    day.events.sort(key=lambda event: event[1])
    return day
