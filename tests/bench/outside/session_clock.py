"""The fair comparison: the session clock's zero and speed are the program's own choice, so both are fitted before anything is called wrong.

The speed is the median, by length, of how each placed stretch differs from the truth; the zero is that of the largest group of clips which agree.
What sound cannot tie together (see ties.py) is fitted apart.
"""

from dataclasses import dataclass

import numpy

from ties import SMALLEST_LOSS_S, groups, ties_of
from truth import overlap_s

LOSS_SLACK_S = 2.0
AGREE_S = 0.03
LONG_ENOUGH_S = 40.0


@dataclass
class Stretch:
    """A stretch that is one piece of a placed clip, one file and one piece of the truth; times are the placed clip's."""

    clip: object
    placed: object
    recording: object
    true_piece: object
    begin_s: float
    end_s: float
    recording_from_s: float

    def true_s(self, clip_s):
        """The true second of a clip time, by the truth about its file."""
        return self.true_piece.true_s(clip_s + self.recording_from_s)

    @property
    def middle_s(self):
        """The clip time halfway."""
        return (self.begin_s + self.end_s) / 2

    @property
    def length_s(self):
        """How long it is."""
        return self.end_s - self.begin_s

    @property
    def rate_difference(self):
        """By how much the placed rate differs from the true one."""
        return (self.placed.rate_ppm - self.true_piece.rate_ppm_at(self.middle_s + self.recording_from_s)) * 1e-6


@dataclass
class SessionClock:
    """Session time = true second (1 + rate) + offset."""

    offset_s: float
    rate: float

    def errors_s(self, stretch):
        """The error at the begin, the middle and the end of a stretch."""
        times_s = numpy.array([stretch.begin_s, stretch.middle_s, stretch.end_s])
        true_s = stretch.true_s(times_s)
        return stretch.placed.session_s(times_s) - true_s * (1 + self.rate) - self.offset_s


def true_ranges(recording):
    """Each piece of the truth with its clip times, kept away from real losses: where exactly one lies is judged apart."""
    pieces, jumps = recording.pieces, [loss.length_s > SMALLEST_LOSS_S for loss in recording.losses]
    for piece, jump_before, jump_after in zip(pieces, [False] + jumps, jumps + [False]):
        yield piece, piece.clip_from_s + LOSS_SLACK_S * jump_before, piece.clip_to_s - LOSS_SLACK_S * jump_after


def stretches_of_part(clip, recording, part, begin_s, end_s):
    """The stretches of one file of a placed clip."""
    from_s = part.clip_from_s - begin_s
    for placed in clip.pieces:
        for true_piece, true_begin_s, true_end_s in true_ranges(recording):
            low_s, high_s = max(begin_s, placed.clip_from_s, true_begin_s - from_s), min(end_s, placed.clip_to_s, true_end_s - from_s)
            if high_s - low_s > 0.5:
                yield Stretch(clip, placed, recording, true_piece, low_s, high_s, from_s)


def stretches_of(clip, files):
    """All stretches of a placed clip; files maps a name to its recording and part."""
    return [stretch for file, begin_s, end_s in clip.part_ranges()
            for stretch in stretches_of_part(clip, *files[file], begin_s, end_s)]


def told_without_truth(one, other):
    """Whether the program ties two clips, by evidence or by joining, that never ran together."""
    if one.clip is other.clip:
        return one.recording is not other.recording
    heard = any(file in one.clip.partners for file, _ in other.clip.parts) or any(file in other.clip.partners for file, _ in one.clip.parts)
    return heard and overlap_s(one.recording, other.recording) == 0


def same_run(one, other):
    """Whether two stretches of one recording have no loss between them."""
    if one.clip is not other.clip or one.recording is not other.recording:
        return False
    first_s, last_s = sorted([one.middle_s + one.recording_from_s, other.middle_s + other.recording_from_s])
    return not any(loss.length_s > SMALLEST_LOSS_S and first_s < loss.clip_at_s < last_s for loss in one.recording.losses)


def tied_together(stretches):
    """The stretches in groups that sound ties together in truth, or that the program ties without; the one with most clips first."""
    indices = range(len(stretches))
    ties = ties_of([stretch.recording.camera for stretch in stretches], [tuple(stretch.true_s(numpy.array([stretch.begin_s, stretch.end_s])))
                                                                         for stretch in stretches])
    ties += [(one, other) for one in indices for other in indices if one < other and
             (same_run(stretches[one], stretches[other]) or told_without_truth(stretches[one], stretches[other]))]
    group = groups(len(stretches), ties)
    members = [[stretch for stretch, value in zip(stretches, group) if value == wanted] for wanted in sorted(set(group))]
    return sorted(members, key=lambda rows: (len(clips_of(rows)), sum(stretch.length_s for stretch in rows)), reverse=True)


def clips_of(stretches):
    """The clips that stretches belong to."""
    return {id(stretch.clip) for stretch in stretches}


def weighted_median(values, weights):
    """The value with half of the weight on either side."""
    order = numpy.argsort(values)
    return float(values[order][numpy.searchsorted(numpy.cumsum(weights[order]), weights.sum() / 2)])


def fit_rate(stretches):
    """How fast the session clock runs against the true one."""
    long = [stretch for stretch in stretches if stretch.length_s >= LONG_ENOUGH_S] or stretches
    return weighted_median(numpy.array([stretch.rate_difference for stretch in long]), numpy.array([stretch.length_s for stretch in long]))


def fit_clock(stretches):
    """The session clock under which most clips, and of as many the most footage, agree."""
    rate = fit_rate(stretches)
    differences_s = numpy.array([SessionClock(0.0, rate).errors_s(stretch)[1] for stretch in stretches])
    clips, lengths_s = numpy.array([id(stretch.clip) for stretch in stretches]), numpy.array([stretch.length_s for stretch in stretches])
    best, best_rank = None, (-1, -1.0)
    for offset_s in differences_s:
        agree = numpy.abs(differences_s - offset_s) <= AGREE_S
        rank = (numpy.unique(clips[agree]).size, lengths_s[agree].sum())
        if rank > best_rank:
            best, best_rank = agree, rank
    return SessionClock(float(numpy.median([numpy.median(differences_s[best & (clips == clip)]) for clip in numpy.unique(clips[best])])), rate)
