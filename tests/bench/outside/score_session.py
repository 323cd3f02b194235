#!/usr/bin/env python3
"""Lines a session up with the built program and judges it against the truth: score_session.py DIR --bin BIN [--json]."""

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from explain import sigma_text
from judge import Judge
from program import align
from truth import read_truth


def score_session(folder, binary):
    """The score of one session."""
    truth = read_truth(folder)
    return Judge(truth, align(binary, folder, truth.day, truth.zone)).judge_all()


def counts_text(score):
    """The counts of a session or of many, in one line."""
    return (f"clips {score.clips}: sound right {score.audio_right} (within 8 ms {score.audio_close}), wrong {score.audio_wrong}, "
            f"off within its doubt {score.audio_doubt}, beyond a loss {score.beyond_loss}; "
            f"clock right {score.clock_right}, wrong {score.clock_wrong}; unplaced {score.unplaced}; "
            f"joined wrongly {score.joined_wrongly}; missed {score.missed}; "
            f"strangers by sound {score.strangers_by_audio} of {score.strangers} (by clock {score.strangers_by_clock}); "
            f"losses {score.losses}: found {score.losses_found}, misplaced {score.losses_misplaced}, missed {score.losses_missed}, "
            f"unheard {score.losses_unheard}, invented {score.losses_invented}; {sigma_text(score.sigmas)}")


def line(score):
    """One session in one line."""
    apart = f"; groups apart by {score.apart_s} s" if score.apart_s else ""
    unreadable = f"; unreadable {score.unreadable}" if score.unreadable else ""
    return f"{score.seed}: {score.cameras} cameras, {score.snr_db:.0f} dB, {counts_text(score)}{apart}{unreadable}; {score.align_wall_s:.1f} s"


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--bin", required=True, type=Path)
    parser.add_argument("--json", action="store_true")
    arguments = parser.parse_args()
    score = score_session(arguments.folder, arguments.bin.resolve())
    if arguments.json:
        print(json.dumps(asdict(score), indent=1))
    else:
        print("\n".join([line(score)] + [f"  {problem}" for problem in score.problems]))


if __name__ == "__main__":
    main()
