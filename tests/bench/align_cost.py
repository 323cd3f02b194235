#!/usr/bin/env python3
"""CPU cost of import + align over that of ffmpeg decoding the same files' sound (ffmpeg -vn -f null -), peak memory, and bytes read of the footage.

align_cost.py JIGTIME NAME=FOLDER [NAME=FOLDER ...] [--runs N]

Every run begins with an empty cache and a new journal. Prints medians; ratios are what counts, seconds depend on the machine.
"""
import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path


def bytes_read(pid):
    """By all read calls of a process that has ended and was not waited for; nothing where the system does not tell."""
    try:
        return int(Path(f"/proc/{pid}/io").read_text().split("rchar:")[1].split()[0])
    except (OSError, IndexError):
        return float("nan")


def cost(*arguments, env=None):
    """User + system CPU seconds, peak resident MiB and bytes read of one process; exit status 0 and 1 are fine."""
    process = subprocess.Popen([str(a) for a in arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=env)
    os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
    read = bytes_read(process.pid)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        sys.exit(f"{arguments[:2]} ended with {process.returncode}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, read


def has_sound(path):
    probe = subprocess.run(["ffprobe", "-v", "error", "-select_streams", "a", "-show_entries", "stream=index", "-of", "csv=p=0", str(path)],
                           capture_output=True, text=True)
    return probe.returncode == 0 and probe.stdout.strip() != ""


def sound_bytes(path):
    """Of all audio packets of a file."""
    probe = subprocess.run(["ffprobe", "-v", "error", "-select_streams", "a:0", "-show_entries", "packet=size", "-of", "csv=p=0", str(path)],
                           capture_output=True, text=True)
    return sum(int(word) for word in probe.stdout.replace(",", " ").split())


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("jigtime")
    parser.add_argument("cameras", nargs="+", metavar="NAME=FOLDER")
    parser.add_argument("--runs", type=int, default=5)
    arguments = parser.parse_args()
    files = [f for camera in arguments.cameras for f in sorted(Path(camera.split("=", 1)[1]).rglob("*")) if f.is_file() and has_sound(f)]
    size = sum(f.stat().st_size for f in files)
    sound = sum(sound_bytes(f) for f in files)
    print(f"{len(files)} files with sound, {size / 1e6:.1f} MB, {arguments.runs} runs")

    rows = {"import": [], "align": [], "align again": [], "ffmpeg": []}
    memory = read = 0
    for _ in range(arguments.runs):
        desk = tempfile.mkdtemp(prefix="jigtime-cost-")
        try:
            env = dict(os.environ, XDG_CACHE_HOME=desk)
            journal = Path(desk) / "cost.jigtime"
            cost(arguments.jigtime, "new", journal, "--build", "Cost", "--zone", "UTC", env=env)
            cameras = [word for camera in arguments.cameras for word in ("--camera", camera)]
            rows["import"].append(cost(arguments.jigtime, "import", journal, "--session", "2026-03-14", *cameras, env=env)[0])
            seconds, peak, read = cost(arguments.jigtime, "align", journal, env=env)
            rows["align"].append(seconds)
            memory = max(memory, peak)
            rows["align again"].append(cost(arguments.jigtime, "align", journal, env=env)[0])
        finally:
            shutil.rmtree(desk, ignore_errors=True)
        rows["ffmpeg"].append(sum(cost("ffmpeg", "-nostdin", "-v", "quiet", "-i", f, "-vn", "-f", "null", "-")[0] for f in files))

    reference = statistics.median(rows["ffmpeg"])
    for name, values in rows.items():
        print(f"{name:12s} {statistics.median(values):8.3f} CPU s   {statistics.median(values) / reference:6.2f} x ffmpeg")
    both = statistics.median(a + b for a, b in zip(rows["import"], rows["align"]))
    print(f"{'import+align':12s} {both:8.3f} CPU s   {both / reference:6.2f} x ffmpeg")
    print(f"peak memory of align {memory:.0f} MiB")
    print(f"bytes read by align, its own cache of sound too  {read / 1e6:.1f} MB, {100 * read / size:.1f} % of the files; their sound is {sound / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
