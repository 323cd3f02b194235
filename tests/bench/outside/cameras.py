"""Cameras and what they record: when they run, how their clocks go, what they lose.

Drawn, from memory of such footage: 2..4 cameras; rate -100..100 ppm that drifts by up to 2 ppm in ten minutes and jumps by up to 2 ppm at a restart;
styles: steady (one recording), split (parts of 90..200 s, in three of ten cameras with a hole of 0.05..0.6 s), overheating (2..3 recordings, gaps of
15..150 s), takes (3..6 recordings of 20..90 s), late (from 20..60 % of the session on); sound 16/32/44.1/48 kHz; AAC in three of four cameras;
sound that begins up to 60 ms before or 120 ms after the first picture in half of them; losses of 20 ms..30 s: none in half of
the sessions, else one or two.
"""

from dataclasses import dataclass

import numpy

from clocks import Clock, draw_clock
from room import place_near
from truth import Loss, Piece, Recording, overlap_s

STYLES = ("steady", "split", "overheating", "takes", "late")
STYLE_SHARES = (0.3, 0.2, 0.25, 0.15, 0.1)
FORMATS = (("mp4", "aac"), ("mov", "aac"), ("mov", "pcm_s16le"), ("mkv", "flac"), ("mkv", "libmp3lame"), ("mkv", "libopus"))
FORMAT_SHARES = (0.55, 0.2, 0.09, 0.05, 0.05, 0.06)
NAMES = ("bench", "overhead", "close", "door")
SHORTEST_TAKE_S = 20.0
LEAST_OVERLAP_S = 15.0
LONGEST_LOSS_S = 30.0


@dataclass
class Microphone:
    """What a camera does to the sound it hears."""

    place: object
    low_cut_hz: float
    noise_over_session_db: float
    colour: float
    gain_is_automatic: bool
    attack_s: float
    release_s: float
    peak_gain: float
    wind: float
    bumps_per_minute: float


@dataclass
class Camera:
    """One camera."""

    name: str
    style: str
    rate_ppm: float
    drift_ppm_per_s: float
    part_s: float
    part_hole_s: float
    sample_rate_hz: int
    channels: int
    container: str
    codec: str
    pictures_per_s: int
    sound_lead_s: float
    clock: Clock
    microphone: Microphone
    first_number: int
    file_prefix: str


def draw_microphone(generator, room, bench, others):
    """A microphone 0.5..5 m from the bench and the other cameras."""
    place = place_near(generator, room, [bench] + others, 0.5, 5.0)
    return Microphone(place, generator.uniform(50, 200), generator.uniform(-2, 2), generator.uniform(0.6, 0.97), bool(generator.random() < 0.7),
                      generator.uniform(0.01, 0.1), generator.uniform(0.8, 4.0), 10 ** generator.uniform(-0.5, 0.5),
                      generator.uniform(0.5, 3.0) if generator.random() < 0.2 else 0.0, generator.choice([0.0, 0.3, 1.0]))


def draw_format(generator):
    """Container, codec and sample rate that go together."""
    container, codec = FORMATS[generator.choice(len(FORMATS), p=FORMAT_SHARES)]
    rate_hz = int(generator.choice([48000, 44100, 32000, 16000], p=[0.5, 0.2, 0.15, 0.15]))
    return container, codec, (48000 if codec == "libopus" else rate_hz)


def draw_lead_s(generator, style):
    """When the sound begins, seen from the first picture; not before it in parts, where the encoder would then cut the last picture short."""
    lead_s = 0.0 if generator.random() < 0.5 else round(float(generator.uniform(-0.06, 0.12)), 3)
    return abs(lead_s) if style == "split" else lead_s


def draw_camera(generator, index, shop, others, zone, began):
    """One camera of the session."""
    style = str(generator.choice(STYLES, p=STYLE_SHARES))
    container, codec, rate_hz = draw_format(generator)
    return Camera(
        name=NAMES[index], style=style, rate_ppm=float(generator.uniform(-98, 98)), drift_ppm_per_s=float(generator.uniform(-2, 2)) / 600,
        part_s=float(generator.uniform(90, 200)) if style == "split" else numpy.inf,
        part_hole_s=float(generator.uniform(0.05, 0.6)) if generator.random() < 0.3 else 0.0,
        sample_rate_hz=rate_hz, channels=int(generator.integers(1, 3)), container=container, codec=codec,
        pictures_per_s=int(generator.choice([5, 10])), sound_lead_s=draw_lead_s(generator, style),
        clock=draw_clock(generator, zone, began, style == "overheating"),
        microphone=draw_microphone(generator, shop.room, shop.places[0], [other.microphone.place for other in others]),
        first_number=int(generator.integers(1, 900)), file_prefix="ABCD"[index] + str(generator.choice(["MOV", "TAKE", "VID", "REC"])))


def in_turn(generator, length_s, longest, take_range_s, gap_range_s):
    """Stretches with gaps between them."""
    stretches, at_s = [], generator.uniform(0, 30)
    for _ in range(longest):
        end_s = min(length_s, at_s + generator.uniform(*take_range_s))
        if end_s - at_s < SHORTEST_TAKE_S:
            break
        stretches.append((at_s, end_s))
        at_s = end_s + generator.uniform(*gap_range_s)
    return stretches


def draw_stretches(generator, style, length_s):
    """When a camera of that style runs, in true seconds."""
    if style == "overheating":
        return in_turn(generator, length_s, int(generator.integers(2, 4)), (0.2 * length_s, 0.5 * length_s), (15, 150))
    if style == "takes":
        return in_turn(generator, length_s, int(generator.integers(3, 7)), (20, 90), (5, 0.3 * length_s))
    begin_s = generator.uniform(0.2, 0.6) * length_s if style == "late" else generator.uniform(0, 20)
    return [(begin_s, length_s - generator.uniform(0, 20))]


def lay_pieces(camera, begin_s, end_s, rate_ppm, losses):
    """The pieces of a recording from a true second on, and its duration by its own clock, in whole pictures."""
    clip_s = (end_s - begin_s - sum(loss.length_s for loss in losses)) / (1 + rate_ppm * 1e-6) - 0.1
    duration_s = numpy.floor(clip_s * camera.pictures_per_s) / camera.pictures_per_s
    pieces, clip_from_s, start_s = [], 0.0, begin_s
    for clip_to_s, length_s in [(loss.clip_at_s, loss.length_s) for loss in losses] + [(duration_s, 0.0)]:
        piece = Piece(clip_from_s, float(clip_to_s), float(start_s), float(rate_ppm), camera.drift_ppm_per_s)
        pieces.append(piece)
        clip_from_s, start_s, rate_ppm = piece.clip_to_s, piece.true_s(clip_to_s) + length_s, piece.rate_ppm_at(clip_to_s)
    return pieces, float(duration_s)


def part_holes(camera, longest_clip_s):
    """The seams between the parts of a recording; the holes may be nothing."""
    part_s = numpy.floor(camera.part_s * camera.pictures_per_s) / camera.pictures_per_s
    if not numpy.isfinite(part_s):
        return []
    return [Loss(float(at_s), camera.part_hole_s, True) for at_s in numpy.arange(1, (longest_clip_s - 20) // part_s + 1) * part_s]


def draw_loss(generator, last_clip_s, longest_s):
    """A loss well inside a clip; short ones as likely as long ones."""
    length_s = numpy.exp(generator.uniform(numpy.log(0.02), numpy.log(longest_s)))
    return Loss(round(float(generator.uniform(8, last_clip_s)), 3), round(float(length_s), 3))


def with_losses(generator, camera, stretch, count):
    """Where a recording of that stretch loses something; what is left stays long enough for all of it."""
    stretch_s = stretch[1] - stretch[0]
    longest_s = min(LONGEST_LOSS_S, stretch_s / 6)
    losses = part_holes(camera, stretch_s - count * longest_s)
    losses += [draw_loss(generator, stretch_s - count * longest_s - 10, longest_s) for _ in range(count)]
    return sorted(losses, key=lambda loss: loss.clip_at_s)


def record(generator, camera, stretch, loss_count):
    """One recording of a camera."""
    losses = with_losses(generator, camera, stretch, loss_count)
    rate_ppm = camera.rate_ppm + generator.uniform(-2, 2)
    pieces, duration_s = lay_pieces(camera, *stretch, rate_ppm, losses)
    return Recording(camera.name, duration_s, pieces, losses)


def share_losses(generator, stretches_of_cameras):
    """How many losses each stretch has; at most two in the session, in stretches of 75 s and more."""
    counts = [[0] * len(stretches) for stretches in stretches_of_cameras]
    long = [(i, j) for i, stretches in enumerate(stretches_of_cameras) for j, (begin_s, end_s) in enumerate(stretches) if end_s - begin_s > 75]
    for _ in range(generator.choice(3, p=[0.5, 0.3, 0.2])):
        camera, stretch = long[generator.integers(len(long))]
        counts[camera][stretch] += 1
    return counts


def meets_another(camera, cameras, recordings):
    """Whether a camera has the least overlap with one of another camera's recordings."""
    return any(overlap_s(one, other) >= LEAST_OVERLAP_S for one in recordings[camera.name]
               for name in (other.name for other in cameras if other is not camera) for other in recordings[name])


def draw_cameras(generator, shop, zone, began, length_s):
    """The cameras of a session with their recordings; each meets another one for a while at least."""
    count = int(generator.choice([2, 3, 4], p=[0.3, 0.45, 0.25]))
    while True:
        cameras = []
        for index in range(count):
            cameras.append(draw_camera(generator, index, shop, cameras, zone, began))
        stretches = [draw_stretches(generator, camera.style, length_s) for camera in cameras]
        if not all(stretches) or not any(end_s - begin_s > 75 for rows in stretches for begin_s, end_s in rows):
            continue
        counts = share_losses(generator, stretches)
        recordings = {camera.name: [record(generator, camera, *pair) for pair in zip(rows, losses)]
                      for camera, rows, losses in zip(cameras, stretches, counts)}
        if all(meets_another(camera, cameras, recordings) for camera in cameras):
            return cameras, recordings
