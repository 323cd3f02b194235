"""Losses inside clips: which were found, which could have been, which are not there."""

from dataclasses import dataclass

from explain import longest_overlap, losses_text
from ties import tied_across
from truth import Piece, Recording

COUNTED_S = 0.040
FOUND_WITHIN_S = 2.0
LENGTH_WITHIN_S = 0.030


@dataclass
class Jump:
    """Where a placed clip says that something is missing, in the clip time of the true recording."""

    from_s: float
    to_s: float
    length_s: float


def jumps_of(clip, files):
    """The jumps between the pieces of a placed clip, each with its true recording."""
    for before, after in zip(clip.pieces, clip.pieces[1:]):
        middle_s = (before.clip_to_s + after.clip_from_s) / 2
        file, begin_s, _ = [row for row in clip.part_ranges() if row[1] <= middle_s + 1e-6][-1]
        recording, part = files[file]
        shift_s = part.clip_from_s - begin_s
        length_s = after.session_s(middle_s) - before.session_s(middle_s)
        if abs(length_s) >= COUNTED_S:
            yield recording, Jump(before.clip_to_s + shift_s, after.clip_from_s + shift_s, length_s)


def distance_s(jump, loss):
    """How far a loss lies from where a jump says it is."""
    return max(0.0, jump.from_s - loss.clip_at_s, loss.clip_at_s - jump.to_s)


def explains(jump, losses):
    """Whether a jump is these losses together."""
    return bool(losses) and abs(jump.length_s - sum(loss.length_s for loss in losses)) <= LENGTH_WITHIN_S


def match(jumps, losses):
    """Which losses were found in place, which only by their length, and which jumps are no loss."""
    found, misplaced, invented = [], [], []
    for jump in jumps:
        near = [loss for loss in losses if distance_s(jump, loss) <= FOUND_WITHIN_S]
        alone = [loss for loss in losses if explains(jump, [loss]) and loss not in found and loss not in [row[0] for row in misplaced]]
        closest = min(alone, key=lambda loss: distance_s(jump, loss), default=None)
        if closest in near:
            found.append(closest)
        elif explains(jump, near):
            found += near
        elif closest is not None:
            misplaced.append((closest, distance_s(jump, closest)))
        else:
            invented.append(jump)
    return found, misplaced, invented


def span(recording, begin_s, end_s):
    """A stretch of a recording, to ask what ran together with it."""
    true_begin_s, true_end_s = recording.true_s(begin_s), recording.true_s(end_s - 1e-6)
    return Recording("", end_s - begin_s, [Piece(begin_s, begin_s + true_end_s - true_begin_s, true_begin_s, 0.0, 0.0)])


def around(recording, loss):
    """The stretches of a recording before and after a loss, up to the losses around it."""
    edges = [0.0] + [other.clip_at_s for other in recording.losses if other.length_s >= COUNTED_S] + [recording.duration_s]
    return (span(recording, max(edge for edge in edges if edge < loss.clip_at_s), loss.clip_at_s),
            span(recording, loss.clip_at_s + 1e-3, min(edge for edge in edges if edge > loss.clip_at_s)))


def heard_around(judge, recording, loss):
    """How long, before and after a loss, another placed camera ran too, and what it was to hear."""
    others = [judge.recording(clip) for clip in judge.by_sound() if clip.camera != recording.camera]
    return [longest_overlap(judge.truth, side, others) for side in around(recording, loss)]


def judge_missed(judge, recording, loss, text, jumps):
    """A loss that was not found: could it have been heard?"""
    sides, placed = heard_around(judge, recording, loss), [judge.recording(clip) for clip in judge.by_sound()]
    if not tied_across(placed, recording, recording.true_s(loss.clip_at_s - 1e-6), recording.true_s(loss.clip_at_s)):
        judge.score.losses_unheard += 1
        return
    judge.score.losses_missed += 1
    told = [(round(jump.from_s, 1), round(jump.length_s, 3)) for jump in jumps]
    judge.score.problems.append(f"loss missed: {text}; told {told}; could be heard before it {sides[0][1]}, after it {sides[1][1]}")


def judge_loss(judge, recording, loss, matched, jumps):
    """One loss of a recording that was placed by sound."""
    found, misplaced = matched
    text = f"{recording.camera}/{recording.parts[0].file} lost {loss.length_s:.3f} s at {loss.clip_at_s:.1f} s, snr {judge.truth.snr_db:.0f} dB"
    off_s = next((off_s for other, off_s in misplaced if other is loss), None)
    judge.score.losses += 1
    if loss in found:
        judge.score.losses_found += 1
    elif off_s is not None:
        judge.score.losses_misplaced += 1
        judge.score.problems.append(f"loss misplaced: {text}, told {off_s:.1f} s off")
    else:
        judge_missed(judge, recording, loss, text, jumps)


def judge_recording(judge, recording, jumps):
    """The losses of one recording that was placed by sound."""
    lost = [loss for loss in recording.losses if loss.length_s > 0]
    found, misplaced, invented = match(jumps, lost)
    for loss in lost:
        if loss.length_s >= COUNTED_S and not loss.between_parts:
            judge_loss(judge, recording, loss, (found, misplaced), jumps)
    judge.score.losses_invented += len(invented)
    name = f"{recording.camera}/{recording.parts[0].file}"
    judge.score.problems += [f"loss invented: {name} {jump.length_s:.3f} s at {jump.from_s:.1f}..{jump.to_s:.1f} s; true losses {losses_text(lost)}; "
                             f"snr {judge.truth.snr_db:.0f} dB" for jump in invented]


def judge_losses(judge):
    """The losses of all recordings that were placed by sound."""
    placed = {id(judge.files[file][0]): judge.files[file][0] for clip in judge.by_sound() for file, _ in clip.parts}
    jumps = [row for clip in judge.by_sound() for row in jumps_of(clip, judge.files)]
    for recording in placed.values():
        judge_recording(judge, recording, [jump for owner, jump in jumps if owner is recording])
