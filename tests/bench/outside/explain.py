"""Words about a verdict, from what the truth knows."""

from collections import Counter

import numpy

from truth import overlap_s


def heard_between(truth, begin_s, end_s):
    """What made sounds in the shop between two true seconds."""
    heard = Counter(kind for kind, event_begin_s, event_end_s in truth.events if event_begin_s < end_s and event_end_s > begin_s)
    return ", ".join(f"{count} {kind}" for kind, count in heard.most_common()) or "nothing"


def songs_text(truth):
    """Whether there was a radio."""
    return "radio" if truth.songs else "no radio"


def longest_overlap(truth, recording, others):
    """The seconds, and in words what was to be heard, of the longest time that a recording ran together with one of the others."""
    seconds, other = max(((overlap_s(recording, other), other) for other in others if other.camera != recording.camera),
                         key=lambda pair: pair[0], default=(0.0, None))
    if seconds == 0:
        return 0.0, "none"
    begin_s = max(recording.covers_s[0][0], other.covers_s[0][0])
    end_s = min(recording.covers_s[-1][1], other.covers_s[-1][1])
    return seconds, f"{seconds:.0f} s with {other.parts[0].file} ({heard_between(truth, begin_s, end_s)}; {songs_text(truth)})"


def errors_text(rows):
    """The errors of a clip's stretches at begin, middle and end."""
    return ", ".join(f"{stretch.begin_s:.0f}..{stretch.end_s:.0f} s " + "/".join(f"{1000 * error_s:+.1f}" for error_s in errors_s) +
                     f" ms (sigma {1000 * stretch.placed.sigma_s:.1f})" for stretch, errors_s in rows)


def losses_text(losses):
    """Losses in words."""
    return ", ".join(f"{loss.length_s:.3f} s at {loss.clip_at_s:.1f}" for loss in losses) or "none"


def sigma_text(sigmas):
    """How the errors compare with the doubt that the program stated."""
    if not sigmas:
        return "no sigmas"
    values = numpy.abs(numpy.array(sigmas))
    over = int((values > 3).sum())
    return f"error/sigma rms {numpy.sqrt(numpy.mean(values ** 2)):.2f}, most {values.max():.1f}, {over} of {values.size} pairs over 3"
