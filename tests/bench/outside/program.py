"""Runs the built program on a session's files, as its command line is documented, and reads what it says."""

import json
import os
import subprocess
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from truth import TRUTH_NAME

DONE_STATUSES = (0, 1)


@dataclass
class PlacedPiece:
    """A stretch of a clip as the program placed it."""

    clip_from_s: float
    clip_to_s: float
    session_start_s: float
    rate_ppm: float
    sigma_s: float

    def session_s(self, clip_s):
        """The session time of a clip time."""
        return self.session_start_s + (clip_s - self.clip_from_s) * (1 + self.rate_ppm * 1e-6)


@dataclass
class PlacedClip:
    """A clip as the program placed it."""

    camera: str
    basis: str
    duration_s: float
    parts: list
    pieces: list
    partners: list = field(default_factory=list)
    notes: list = field(default_factory=list)

    @property
    def name(self):
        """The first file's name."""
        return self.parts[0][0]

    def part_ranges(self):
        """Each file with the clip times it covers."""
        ends = [clip_from_s for _, clip_from_s in self.parts[1:]] + [self.duration_s]
        return [(file, clip_from_s, end_s) for (file, clip_from_s), end_s in zip(self.parts, ends)]


@dataclass
class Answer:
    """All that `align --json` said, and what it took."""

    clips: list
    unreadable: list
    reference: str
    wall_s: float


def clip_of(document):
    """A clip from its JSON."""
    return PlacedClip(document["camera"], document["basis"], document["duration_s"],
                      [(part["file"], part["clip_from_s"]) for part in document["parts"]],
                      [PlacedPiece(*(piece[name] for name in PlacedPiece.__dataclass_fields__)) for piece in document["pieces"]],
                      [evidence["with"] for evidence in document.get("evidence", [])], document.get("notes", []))


def call(arguments, environment):
    """Runs the program; anything but done or done-with-doubt is an error."""
    done = subprocess.run([str(argument) for argument in arguments], capture_output=True, text=True, env=environment, check=False)
    if done.returncode not in DONE_STATUSES:
        raise RuntimeError(f"{' '.join(map(str, arguments[:2]))} ended with {done.returncode}: {done.stderr[-500:]}")
    return done.stdout


def own_environment(folder):
    """An environment whose cache and settings are this run's own."""
    return os.environ | {"HOME": folder} | {f"XDG_{kind}_HOME": str(Path(folder, kind.lower())) for kind in ("CACHE", "CONFIG", "DATA", "STATE")}


def camera_folders(session):
    """The cameras as the import takes them: each folder beside the truth."""
    return [f"--camera={folder.name}={folder}" for folder in sorted(session.iterdir()) if folder.is_dir()]


def align(binary, session, day, zone):
    """Makes a journal in a temporary folder, imports the session, lines it up."""
    session = Path(session).resolve()
    if not (session / TRUTH_NAME).exists():
        raise RuntimeError(f"{session} holds no session")
    with tempfile.TemporaryDirectory() as folder:
        environment, journal = own_environment(folder), Path(folder, "outside.jigtime")
        call([binary, "new", journal, "--build", "Outside bench", "--zone", zone], environment)
        call([binary, "import", journal, "--session", day, *camera_folders(session), "--json"], environment)
        began = time.monotonic()
        document = json.loads(call([binary, "align", journal, "--session", day, "--json"], environment))
        return Answer([clip_of(clip) for clip in document["clips"]], document.get("unreadable", []), document.get("reference"),
                      time.monotonic() - began)
