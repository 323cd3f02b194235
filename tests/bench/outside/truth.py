"""The truth of a session: which file lies where on the true clock, and what is wrong with it. Kept as truth.json beside the files."""

import json
from dataclasses import asdict, dataclass, field
from pathlib import Path

TRUTH_NAME = "truth.json"


@dataclass
class Piece:
    """A stretch of clip time without loss: true second = start + d (1 + rate) + d^2 drift / 2, with d seconds since clip_from_s."""

    clip_from_s: float
    clip_to_s: float
    session_start_s: float
    rate_ppm: float
    drift_ppm_per_s: float

    def true_s(self, clip_s):
        """The true second of a clip time; numpy arrays too."""
        since_s = clip_s - self.clip_from_s
        return self.session_start_s + since_s * (1 + self.rate_ppm * 1e-6) + since_s * since_s * self.drift_ppm_per_s * 0.5e-6

    def rate_ppm_at(self, clip_s):
        """How fast the true clock runs against the clip at a clip time."""
        return self.rate_ppm + self.drift_ppm_per_s * (clip_s - self.clip_from_s)


@dataclass
class Loss:
    """Sound and pictures that are missing inside a clip, with no trace in its timestamps."""

    clip_at_s: float
    length_s: float
    between_parts: bool = False


@dataclass
class Part:
    """A file of a recording."""

    file: str
    clip_from_s: float
    duration_s: float
    creation_time: str | None = None


@dataclass
class Recording:
    """What a camera wrote between start and stop."""

    camera: str
    duration_s: float
    pieces: list
    losses: list = field(default_factory=list)
    parts: list = field(default_factory=list)
    stranger: bool = False
    clock_kind: str = "good"
    clock_error_s: float | None = None

    def true_s(self, clip_s):
        """The true second of a clip time."""
        return next((piece for piece in self.pieces if clip_s < piece.clip_to_s), self.pieces[-1]).true_s(clip_s)

    @property
    def covers_s(self):
        """The stretches of true time that the recording has."""
        return [(piece.session_start_s, piece.true_s(piece.clip_to_s)) for piece in self.pieces]


@dataclass
class Truth:
    """A whole session."""

    seed: int
    day: str
    zone: str
    began_utc: str
    length_s: float
    snr_db: float
    reverberation_s: float
    cameras: list
    recordings: list
    events: list
    songs: list
    songs_of_strangers: list = field(default_factory=list)


def overlap_s(one, other):
    """How long two recordings of the session ran together."""
    if one.stranger or other.stranger:
        return 0.0
    return sum(max(0.0, min(end, other_end) - max(begin, other_begin))
               for begin, end in one.covers_s for other_begin, other_end in other.covers_s)


def overlaps(recordings):
    """Every pair of recordings of different cameras that ran together."""
    rows = []
    for index, one in enumerate(recordings):
        for other in recordings[index + 1:]:
            seconds = overlap_s(one, other)
            if seconds > 0:
                rows.append({"a": one.parts[0].file, "b": other.parts[0].file, "seconds": round(seconds, 3)})
    return rows


def write_truth(folder, truth):
    """Writes the truth beside the files."""
    document = asdict(truth) | {"overlaps": overlaps(truth.recordings)}
    Path(folder, TRUTH_NAME).write_text(json.dumps(document, indent=1) + "\n")


def recording_of(document):
    """A recording from its JSON."""
    return Recording(**{**document, "pieces": [Piece(**piece) for piece in document["pieces"]],
                        "losses": [Loss(**loss) for loss in document["losses"]], "parts": [Part(**part) for part in document["parts"]]})


def read_truth(folder):
    """Reads what write_truth wrote."""
    document = json.loads(Path(folder, TRUTH_NAME).read_text())
    document.pop("overlaps")
    document["recordings"] = [recording_of(recording) for recording in document["recordings"]]
    return Truth(**document)
