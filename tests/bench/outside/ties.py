"""Which stretches of footage sound could tie together at all: those of two cameras that ran together, and those that such ties join.

Two recordings that share nothing with each other, nor with a third one, cannot be compared by sound; and of a loss that only one other recording
heard on either side, nobody can tell. Such groups are judged apart.
"""

TIE_S = 10.0
SMALLEST_LOSS_S = 0.03


def groups(count, ties):
    """The group of each of so many things, given pairs of them that are tied together."""
    group = list(range(count))
    for one, other in ties:
        old, new = group[other], group[one]
        group = [new if value == old else value for value in group]
    return group


def ran_together_s(one, other):
    """How long two (begin, end) stretches of true time ran together."""
    return min(one[1], other[1]) - max(one[0], other[0])


def ties_of(cameras, ranges_s):
    """The pairs of stretches, each with its camera and its true time, that two cameras heard for long enough."""
    indices = range(len(ranges_s))
    return [(one, other) for one in indices for other in indices
            if one < other and cameras[one] != cameras[other] and ran_together_s(ranges_s[one], ranges_s[other]) >= TIE_S]


def segments(recording):
    """The stretches of true time between the losses of a recording."""
    rows = []
    for piece, loss in zip(recording.pieces, [*recording.losses, None]):
        begin_s = rows.pop()[0] if rows and rows[-1][1] is None else piece.session_start_s
        rows.append((begin_s, None if loss and loss.length_s < SMALLEST_LOSS_S else piece.true_s(piece.clip_to_s)))
    return rows


def segment_at(recording, true_s):
    """The index of the segment that ends or begins at a true second."""
    return min(range(len(segments(recording))), key=lambda index: min(abs(edge_s - true_s) for edge_s in segments(recording)[index]))


def tied_across(recordings, recording, before_s, after_s):
    """Whether sound ties the two sides of a loss, given the true seconds where it begins and ends."""
    rows = [(other, segment) for other in recordings for segment in segments(other)]
    group = groups(len(rows), ties_of([other.camera for other, _ in rows], [segment for _, segment in rows]))
    first = next(index for index, (other, _) in enumerate(rows) if other is recording)
    return group[first + segment_at(recording, before_s - 1e-3)] == group[first + segment_at(recording, after_s + 1e-3)]
