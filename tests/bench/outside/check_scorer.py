#!/usr/bin/env python3
"""Checks the scorer itself, in a second: answers made from a truth, right ones and ones with a known fault, get the verdict they deserve."""

import copy
import sys

from judge import Judge
from program import Answer, PlacedClip, PlacedPiece
from truth import Loss, Part, Piece, Recording, Truth

SESSION_SPEED_PPM = 60.0
SESSION_ZERO_S = 123.4


def recording(camera, begin_s, duration_s, rate_ppm, losses=()):
    """A recording whose only file has its camera's name."""
    pieces, from_s, start_s = [], 0.0, begin_s
    for to_s, length_s in [(loss.clip_at_s, loss.length_s) for loss in losses] + [(duration_s, 0.0)]:
        pieces.append(Piece(from_s, to_s, start_s, rate_ppm, 0.0))
        from_s, start_s = to_s, pieces[-1].true_s(to_s) + length_s
    return Recording(camera, duration_s, pieces, list(losses), [Part(camera + ".mp4", 0.0, duration_s)])


def a_truth():
    """Four cameras, one with two losses, and a stranger."""
    stranger = recording("phone", 0.0, 60.0, 10.0)
    stranger.stranger = True
    rows = [recording("bench", 5.0, 500.0, -60.0), recording("overhead", 20.0, 450.0, 33.0, [Loss(100.0, 0.5), Loss(300.0, 7.0)]),
            recording("close", 100.0, 80.0, 95.0), recording("door", 250.0, 60.0, -20.0), stranger]
    return Truth(1, "2026-03-14", "Europe/Lisbon", "", 540.0, 10.0, 0.5, [1, 2, 3, 4], rows, [], [])


def placed(row):
    """A recording placed as it truly lies, on a session clock with another zero and another speed."""
    speed = 1 + SESSION_SPEED_PPM * 1e-6
    pieces = [PlacedPiece(piece.clip_from_s, piece.clip_to_s, piece.session_start_s * speed + SESSION_ZERO_S,
                          ((1 + piece.rate_ppm * 1e-6) * speed - 1) * 1e6, 0.002) for piece in row.pieces]
    return PlacedClip(row.camera, "audio", row.duration_s, [(row.parts[0].file, 0.0)], pieces, ["bench.mp4"])


def right_answer(truth):
    """Everything as it is; the stranger is left alone."""
    clips = [placed(row) for row in truth.recordings]
    clips[-1].basis, clips[-1].pieces = "none", []
    return Answer(clips, [], "bench", 1.0)


def shift(clip, seconds):
    """Moves a clip."""
    for piece in clip.pieces:
        piece.session_start_s += seconds


def forget_loss(clip):
    """Makes the second loss unknown: the last piece goes on as the one before."""
    clip.pieces[1].clip_to_s = clip.pieces.pop().clip_to_s


def invent_loss(clip):
    """Splits a clip where nothing is missing."""
    first = clip.pieces[0]
    second = copy.copy(first)
    second.clip_from_s, second.session_start_s, first.clip_to_s = 40.0, first.session_s(40.0) + 0.2, 40.0
    clip.pieces.append(second)


def by_clock(clip, error_s):
    """A clip that its clock placed, somewhat wrong."""
    clip.basis = "clock"
    shift(clip, error_s)
    for piece in clip.pieces:
        piece.sigma_s = 1.0


def take_in_stranger(clips):
    """Places the stranger by sound."""
    clips[4].basis, clips[4].pieces = "audio", [PlacedPiece(0.0, 60.0, 150.0, 0.0, 0.001)]


def late_end(clips):
    """Tells the first loss where it is not."""
    clips[1].pieces[0].clip_to_s = clips[1].pieces[1].clip_from_s = 110.0
    clips[1].pieces[1].session_start_s += 10.0


def join_others(clips):
    """Takes two recordings for parts of one."""
    clips[2].parts.append(("door.mp4", 80.0))
    clips[2].duration_s = clips[2].pieces[0].clip_to_s = 140.0
    del clips[3]


CASES = (
    ("all right", lambda clips: None, {"audio_right": 4, "audio_close": 4, "losses_found": 2, "losses": 2, "missed": 0, "strangers": 1}),
    ("20 ms off", lambda clips: shift(clips[2], 0.02), {"audio_right": 4, "audio_close": 3}),
    ("50 ms off", lambda clips: shift(clips[2], 0.05), {"audio_right": 3, "audio_wrong": 1}),
    ("loss unknown", lambda clips: forget_loss(clips[1]),
     {"audio_right": 3, "audio_wrong": 0, "beyond_loss": 1, "losses_found": 1, "losses_missed": 1}),
    ("loss elsewhere", late_end, {"losses_found": 1, "losses_misplaced": 1}),
    ("loss invented", lambda clips: invent_loss(clips[2]), {"audio_right": 3, "audio_wrong": 1, "losses_invented": 1}),
    ("clock 3 s off", lambda clips: by_clock(clips[3], 3.0), {"audio_right": 3, "clock_right": 1, "missed": 1}),
    ("clock 9 s off", lambda clips: by_clock(clips[3], 9.0), {"audio_right": 3, "clock_wrong": 1, "missed": 1}),
    ("joined", join_others, {"audio_right": 2, "audio_wrong": 1, "joined_wrongly": 1}),
    ("stranger", take_in_stranger, {"audio_right": 4, "strangers_by_audio": 1}),
)


def main():
    """All cases."""
    failed = 0
    for name, change, wanted in CASES:
        truth = a_truth()
        answer = right_answer(truth)
        change(answer.clips)
        score = Judge(truth, answer).judge_all()
        got = {key: getattr(score, key) for key in wanted}
        failed += got != wanted
        print(f"{'ok  ' if got == wanted else 'FAIL'} {name}: {got}" + ("" if got == wanted else f", wanted {wanted}; {score.problems}"))
    print(f"{failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
