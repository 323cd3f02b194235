#!/usr/bin/env python3
"""Makes and judges the sessions of a range of seeds: many_sessions.py FROM TO --bin BIN --work DIR [--keep] [--again] [--jobs N] [--minutes M].

A line a session, its problems below it, a summary at the end, all of it in DIR/scores.json too. --keep leaves the media files; --again judges
sessions that are there without making them anew (those that are not there are made); without --bin they are only made.
"""

import argparse
import json
import shutil
import sys
import time
import traceback
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, fields
from pathlib import Path

from judge import Score
from make_session import make_session
from score_session import counts_text, line, score_session
from truth import TRUTH_NAME


def one_session(seed, options):
    """Makes one session if need be, judges it, and tells in words if that failed; then what it made is left to be looked at."""
    folder = options.work / f"session{seed}"
    try:
        if not (options.again and (folder / TRUTH_NAME).exists()):
            make_session(seed, folder, options.minutes)
        score = score_session(folder, options.bin) if options.bin else None
    except (Exception, SystemExit):  # One session that fails must not stop the others.
        return f"{seed}: FAILED\n{traceback.format_exc()}"
    if options.bin and not options.keep and not options.again:
        shutil.rmtree(folder)
    return score


def added_up(scores):
    """All counts of many sessions in one score."""
    total = Score(0, 0.0, 0)
    for field in fields(Score)[2:]:
        start = [] if isinstance(getattr(total, field.name), list) else 0
        setattr(total, field.name, sum((getattr(score, field.name) for score in scores), start))
    return total


def summary(scores):
    """The last lines: everything, and the sound by the noise."""
    rows = [f"{len(scores)} sessions, {counts_text(added_up(scores))}"]
    for snr_db in sorted({score.snr_db for score in scores}, reverse=True):
        total = added_up([score for score in scores if score.snr_db == snr_db])
        rows.append(f"  {snr_db:.0f} dB: sound right {total.audio_right}, within 8 ms {total.audio_close}, wrong {total.audio_wrong}, "
                    f"beyond a loss {total.beyond_loss}, missed {total.missed}, clock wrong {total.clock_wrong}")
    return "\n".join(rows)


def tell(seed, result, since):
    """One session's lines, as soon as they are known."""
    if isinstance(result, Score):
        print("\n".join([line(result)] + [f"  {problem}" for problem in result.problems]), flush=True)
    else:
        print(result or f"{seed}: made, {time.monotonic() - since:.0f} s since the beginning", flush=True)


def arguments_of(words):
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("first", type=int, metavar="FROM")
    parser.add_argument("last", type=int, metavar="TO", help="the last seed, included")
    parser.add_argument("--bin", type=lambda text: Path(text).resolve())
    parser.add_argument("--work", type=Path, required=True)
    parser.add_argument("--keep", action="store_true")
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--minutes", type=float)
    return parser.parse_args(words)


def main():
    """Runs the range."""
    options, since, results = arguments_of(sys.argv[1:]), time.monotonic(), []
    options.work.mkdir(parents=True, exist_ok=True)
    seeds = range(options.first, options.last + 1)
    with ProcessPoolExecutor(options.jobs) as workers:
        for seed, result in zip(seeds, workers.map(one_session, seeds, [options] * len(seeds))):
            tell(seed, result, since)
            results.append(result)
    scores = [result for result in results if isinstance(result, Score)]
    if scores:
        print(summary(scores))
        (options.work / "scores.json").write_text(json.dumps([asdict(score) for score in scores], indent=1) + "\n")
    return 1 if any(isinstance(result, str) for result in results) else 0


if __name__ == "__main__":
    sys.exit(main())
