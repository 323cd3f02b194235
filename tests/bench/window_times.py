#!/usr/bin/env python3
"""How quickly the real window answers: program start to first frame, and Enter in Find to the pictures it leads to, beside what ffmpeg needs to seek
to one of those moments in one of those files and decode its picture.

window_times.py JIGTIME JOURNAL [--jumps N]    needs Xvfb and xdotool; the journal is copied, its session is its newest

The window runs with an empty cache: pictures come out of the footage, the slower way; bench_viewer tells of review copies too.
"""
import argparse
import json
import random
import re
import statistics
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "app"))
from window_driver import Screen, Window, drop, new_home  # noqa: E402


def ask(*arguments):
    done = subprocess.run([*map(str, arguments), "--json"], capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(done.stderr)
    return json.loads(done.stdout)


def told(values):
    values = sorted(values)
    return f"median {statistics.median(values):6.0f} ms, 95 % {values[int(0.95 * (len(values) - 1))]:6.0f} ms, worst {values[-1]:6.0f} ms of {len(values)}"


def jump(window, word):
    """Types the word into Find, waits for the answer as a person does, and presses Enter."""
    log = window.home / "window.log"
    before = len(log.read_text().splitlines())
    window.press("F7")
    window.press("ctrl+a")
    window.type(word)
    time.sleep(0.4)
    window.press("Return")
    line = window.wait_for(lambda: next((one for one in log.read_text().splitlines()[before:] if "after Enter" in one), None), "pictures")
    return float(re.search(r"pictures (\S+) ms", line)[1])


def file_at(clips, moment):
    """A file that shows the moment, and where in it, in seconds."""
    for clip in clips:
        for piece in clip["pieces"]:
            at = moment - piece["session_start_s"] + piece["clip_from_s"]
            if piece["clip_from_s"] <= at < piece["clip_to_s"]:
                part = next(one for one in reversed(clip["parts"]) if one["clip_from_s"] <= at)
                return part["file"], at - part["clip_from_s"]
    return None


def by_ffmpeg(path, at):
    """Milliseconds of one process: seek, decode one picture, leave."""
    begun = time.monotonic()
    subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-ss", f"{at:.3f}", "-i", path, "-an", "-frames:v", "1", "-f", "null", "-"], check=False)
    return 1000 * (time.monotonic() - begun)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("jigtime")
    parser.add_argument("journal")
    parser.add_argument("--jumps", type=int, default=30)
    arguments = parser.parse_args()
    home, screen = new_home(), Screen()
    try:
        journal = home / "times.jigtime"
        ask(arguments.jigtime, "backup", arguments.journal, "--to", journal)
        day = ask(arguments.jigtime, "show", journal)["sessions"][-1]["session"]
        clips = ask(arguments.jigtime, "show", journal, "--session", day)["clips"]
        placed = [clip for clip in clips if clip["pieces"]]
        end = max(piece["session_start_s"] + piece["clip_to_s"] - piece["clip_from_s"] for clip in placed for piece in clip["pieces"])
        draw = random.Random(7)
        moments = [draw.uniform(0, end) for _ in range(arguments.jumps)]
        for number, moment in enumerate(moments):
            ask(arguments.jigtime, "mark", journal, "--session", day, "--at", f"{int(moment // 3600)}:{int(moment // 60 % 60):02}:{moment % 60:06.3f}",
                "--note", f"moment{number:03}x")
        window = Window(arguments.jigtime, screen, home)
        window.environment["XDG_CACHE_HOME"] = str(home / "cache")
        window.open(journal, title="Jigtime")
        time.sleep(3)
        times = [jump(window, f"moment{number:03}x") for number in range(len(moments))]
        window.close()
        print(f"start to first frame                 {window.first_frame_ms():6.0f} ms")
        print(f"Enter to pictures, {len(placed)} clips' footage   {told(times)}")
        paths = {file["file"]: file["path"] for file in ask(arguments.jigtime, "footage", journal, "--session", day)["files"]}
        shown = [found for found in (file_at(placed, moment) for moment in moments) if found]
        reference = [by_ffmpeg(paths[file], at) for file, at in shown]
        print(f"ffmpeg, one picture of one camera   {told(reference)}")
        print(f"ratio of the medians                 {statistics.median(times) / statistics.median(reference):6.2f}")
    finally:
        screen.close()
        drop(home)


if __name__ == "__main__":
    main()
