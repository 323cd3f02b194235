"""What a camera's clock says when it writes a file, and how it is wrong.

Drawn, from memory of such cameras: 45 % good (+-2 s), 12 % no clock at all, 12 % an hour off, 13 % local time in the UTC field, 18 % off by 2..45
minutes; half of the cameras that overheat fall back to a factory date when they come back; 8 % stamp the end of a file instead of its begin.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

ZONES = ("Europe/Helsinki", "America/Denver", "Europe/Lisbon", "Australia/Brisbane", "America/Sao_Paulo")
KINDS = ("good", "none", "zone", "local", "minutes")
KIND_SHARES = (0.45, 0.12, 0.12, 0.13, 0.18)
FACTORY = datetime(2016, 1, 1, tzinfo=timezone.utc)


@dataclass
class Clock:
    """How one camera's clock is wrong; from a recording on it may count from the factory date."""

    kind: str
    error_s: float
    stamps_end: bool
    reset_from_recording: int | None = None


def draw_began(generator):
    """A zone and the instant the session began."""
    zone = str(generator.choice(ZONES))
    local = datetime(2026, 3, 1, tzinfo=ZoneInfo(zone)) + timedelta(days=int(generator.integers(0, 200)))
    local = local.replace(hour=int(generator.integers(8, 19)), minute=int(generator.integers(60)), second=int(generator.integers(60)))
    return zone, local.astimezone(timezone.utc)


def draw_error_s(generator, kind, zone_offset_s):
    """How far the clock is ahead of the true time."""
    small_s = generator.uniform(-2, 2)
    if kind == "zone":
        return small_s + generator.choice([-3600, 3600])
    if kind == "local":
        return small_s + zone_offset_s
    if kind == "minutes":
        return generator.choice([-1, 1]) * generator.uniform(120, 2700)
    return small_s


def draw_clock(generator, zone, began, overheats):
    """A camera's clock."""
    kind = str(generator.choice(KINDS, p=KIND_SHARES))
    offset_s = began.astimezone(ZoneInfo(zone)).utcoffset().total_seconds()
    clock = Clock(kind, float(draw_error_s(generator, kind, offset_s)), bool(generator.random() < 0.08))
    if overheats and kind != "none" and generator.random() < 0.5:
        clock.reset_from_recording = int(generator.integers(1, 3))
    return clock


def is_reset(clock, recording):
    """Whether that recording of the camera was made after the clock had been reset."""
    return clock.reset_from_recording is not None and recording >= clock.reset_from_recording


def reading(clock, began, true_s, recording, restarted_s):
    """What the clock says at a true second of the session, or None without a clock."""
    if clock.kind == "none":
        return None
    if is_reset(clock, recording):
        return FACTORY + timedelta(seconds=true_s - restarted_s + 9)
    return began + timedelta(seconds=true_s + clock.error_s)
