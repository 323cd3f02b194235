#!/usr/bin/env python3
"""Makes a whole session of real media files from one seed, with its truth beside them: make_session.py SEED DIR [--minutes M].

Everything drawn comes from memory of shops and cameras and from common practice, no source: 8..10 minutes, signal to noise 20, 10, 5 or 0 dB
(35/30/20/15 %); in four of ten sessions one or two strangers of 40..150 s from other days of the same shop, half of those days with the same songs,
7 of 10 dated by a good clock, 2 with no clock, 1 with a clock that says this session. See shop.py, room.py, cameras.py, clocks.py and
recording.py for the rest. DIR gets a folder a camera and truth.json; a folder that was there before is replaced if it holds a session.
"""

import argparse
import shutil
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy

from cameras import Camera, draw_cameras, lay_pieces
from clocks import Clock, draw_began
from files import BITS_PER_S, write_recording
from recording import ready_to_sample, samples_of, session_level
from room import hear, impulse_response
from shop import draw_day, draw_shop
from truth import TRUTH_NAME, Recording, Truth, write_truth

BEGUN_NAME = "begun"


@dataclass
class Plan:
    """What the whole session has in common."""

    seed: int
    folder: Path
    shop: object
    zone: str
    began: object
    length_s: float
    snr_db: float
    keeps_file_times: bool


def draw_plan(generator, seed, folder, minutes):
    """The shop, the day and the noise."""
    zone, began = draw_began(generator)
    return Plan(seed, Path(folder), draw_shop(int(generator.integers(2**31))), zone, began, 60 * (minutes or generator.uniform(8, 10)),
                float(generator.choice([20, 10, 5, 0], p=[0.35, 0.3, 0.2, 0.15])), bool(generator.random() < 0.7))


def sound_bits_per_s(generator, camera):
    """A bit rate for lossy sound, lower for narrow sound."""
    rates = BITS_PER_S.get(camera.codec)
    return None if rates is None else int(generator.choice(rates[:1] if camera.sample_rate_hz == 16000 else rates))


def listen(generator, shop, day, cameras):
    """What each camera's microphone hears on a day."""
    return hear(day.tracks, [[impulse_response(generator, shop.room, place, camera.microphone.place) for place in shop.places] for camera in cameras])


def write_camera(generator, plan, camera, heard, recordings):
    """All files of one camera."""
    coefficients, level = ready_to_sample(heard, camera), session_level(heard)
    folder, number = plan.folder / camera.name, camera.first_number
    folder.mkdir(parents=True, exist_ok=True)
    bits_per_s = sound_bits_per_s(generator, camera)
    for index, recording in enumerate(recordings):
        samples = samples_of(generator, coefficients, recording, camera, level, plan.snr_db)
        write_recording(folder, samples, recording, camera, number + index, index, plan.began, plan.keeps_file_times, bits_per_s)
        recording.clock_kind, recording.clock_error_s = describe_clock(camera.clock, index)


def describe_clock(clock, index):
    """The kind of wrongness of a recording's clock, and by how much where that is a number."""
    if clock.reset_from_recording is not None and index >= clock.reset_from_recording:
        return "reset", None
    kind = clock.kind + (", at the end" if clock.stamps_end else "")
    return kind, None if clock.kind == "none" else clock.error_s


def stranger_clock(generator):
    """What the clock says of another day's clip, in seconds against this session."""
    kind = str(generator.choice(["good", "none", "lies"], p=[0.7, 0.2, 0.1]))
    days = 0 if kind == "lies" else -86400.0 * generator.integers(1, 20)
    return Clock("good" if kind == "lies" else kind, float(days + generator.uniform(-7200, 7200) * (kind != "lies")), False)


def stranger_camera(generator, cameras):
    """A camera of the session on another day, or a telephone."""
    camera = deepcopy(cameras[generator.integers(len(cameras))])
    if generator.random() < 0.4:
        camera.name, camera.file_prefix = "phone", "P"
    camera.clock = stranger_clock(generator)
    return camera


def add_stranger(generator, plan, cameras, order):
    """A clip from another day of the same shop; its recording and the songs it heard."""
    camera, length_s = stranger_camera(generator, cameras), generator.uniform(40, 150)
    shop = deepcopy(plan.shop)
    if generator.random() < 0.5:
        shop.song_seeds = [int(seed) for seed in generator.integers(2**31, size=4)]
    day = draw_day(generator, shop, length_s + 1, 0.8)
    heard = listen(generator, shop, day, [camera])[0]
    pieces, duration_s = lay_pieces(camera, 0.5, length_s, camera.rate_ppm, [])
    recording = Recording(camera.name, duration_s, pieces, stranger=True)
    camera.first_number = max(1, camera.first_number - 5) + order + 5000
    write_camera(generator, plan, camera, heard, [recording])
    return recording, day.songs


def describe_camera(camera):
    """What the truth tells about a camera."""
    row = {name: getattr(camera, name) for name in Camera.__dataclass_fields__ if name not in ("clock", "microphone", "part_s", "first_number")}
    microphone = camera.microphone
    return row | {"clock": vars(camera.clock), "place_m": [round(float(value), 3) for value in microphone.place],
                  "gain_is_automatic": microphone.gain_is_automatic, "wind": microphone.wind}


def clear(folder):
    """Removes a session made or begun before, and nothing else; a mark tells one that was begun."""
    if folder.exists() and any(folder.iterdir()):
        if not (folder / TRUTH_NAME).exists() and not (folder / BEGUN_NAME).exists():
            raise FileExistsError(f"{folder} holds something that is no session")
        shutil.rmtree(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / BEGUN_NAME).touch()


def make_session(seed, folder, minutes=None):
    """Makes the session and returns its truth."""
    generator = numpy.random.default_rng(seed)
    plan = draw_plan(generator, seed, folder, minutes)
    clear(plan.folder)
    cameras, recordings = draw_cameras(generator, plan.shop, plan.zone, plan.began, plan.length_s)
    day = draw_day(generator, plan.shop, plan.length_s + 1)
    for camera, heard in zip(cameras, listen(generator, plan.shop, day, cameras)):
        write_camera(generator, plan, camera, heard, recordings[camera.name])
    stranger_count = int(generator.choice([0, 1, 2], p=[0.6, 0.28, 0.12]))
    strangers = [add_stranger(generator, plan, cameras, order) for order in range(stranger_count)]
    truth = Truth(seed, plan.began.astimezone(ZoneInfo(plan.zone)).date().isoformat(), plan.zone, plan.began.isoformat(), plan.length_s, plan.snr_db,
                  float(plan.shop.room.reverberation_s), [describe_camera(camera) for camera in cameras],
                  [recording for camera in cameras for recording in recordings[camera.name]] + [recording for recording, _ in strangers],
                  day.events, day.songs, [songs for _, songs in strangers])
    write_truth(plan.folder, truth)
    (plan.folder / BEGUN_NAME).unlink()
    return truth


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("seed", type=int)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--minutes", type=float, help="how long the session is; drawn from 8..10 without it")
    arguments = parser.parse_args()
    make_session(arguments.seed, arguments.folder, arguments.minutes)


if __name__ == "__main__":
    main()
