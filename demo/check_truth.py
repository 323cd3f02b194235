#!/usr/bin/env python3
"""Holds what the program found against the truth that the demo's maker wrote down.

    check_truth.py TRUTH.json ALIGN.json HOURS.json

ALIGN.json and HOURS.json are what `jigtime align --json` and `jigtime hours --json` print. Exit status 0: everything
is right; 1: something is wrong or missing, each such line ends with its reason in brackets; 2: cannot be read.

Session time is known up to a shift, and runs at the rate of the camera that the line-up chose as its reference: the
truth is brought to that rate, and the median error of all clips placed by sound is taken as the shift.
"""
import json
import statistics
import sys

AUDIO_LIMIT_S = 0.005
SHIFT_LIMIT_S = 0.1  # tags are read on the session clock: its zero must be the first instant of the first clip
STEP_LIMIT_S = 0.005
DROPOUT_PLACE_LIMIT_S = 2.0
DROPOUT_SIZE_LIMIT_S = 2 * AUDIO_LIMIT_S  # it is the difference of two places, each of which may be off that much
SIGMAS = 4  # how far a clip placed by its clock may be off, in its own standard errors
PROBE_EVERY_S = 5.0


class Report:
    def __init__(self):
        self.faults = 0

    def line(self, text, fault=""):
        self.faults += bool(fault)
        print(f"  {text}" + (f"   [{fault}]" if fault else ""))


def load(path):
    try:
        with open(path, encoding="utf-8") as file:
            return json.load(file)
    except (OSError, ValueError) as problem:
        print(f"check_truth.py: {path}: {problem}", file=sys.stderr)
        sys.exit(2)


def placed(pieces, t):
    """Session time of clip time t by what the program found."""
    piece = next((p for p in pieces if t <= p["clip_to_s"]), pieces[-1])
    return piece["session_start_s"] + (t - piece["clip_from_s"]) * (1 + piece["rate_ppm"] * 1e-6)


def true_time(part, t, clip_from, reference_ppm):
    """Session time of clip time t by the truth, at the reference's rate; `part` is a file of the truth."""
    lost = sum(d["length_s"] for d in part["dropouts"] if t >= d["at_s"])
    scene = part["session_start_s"] + (t - clip_from + lost) * (1 + part["rate_ppm"] * 1e-6)
    return scene / (1 + reference_ppm * 1e-6)


def probes(parts):
    """Clip times to look at: the first picture of each part, then every few seconds, and the last picture."""
    for part, clip_from in parts:
        count = int(part["length_s"] / PROBE_EVERY_S)
        for t in [clip_from + i * PROBE_EVERY_S for i in range(count + 1)] + [clip_from + part["length_s"] - 0.05]:
            yield t, part, clip_from


def steps(clip):
    """(clip time, seconds skipped) wherever one piece ends and the next begins."""
    for before, after in zip(clip["pieces"], clip["pieces"][1:]):
        end = before["session_start_s"] + (before["clip_to_s"] - before["clip_from_s"]) * (1 + before["rate_ppm"] * 1e-6)
        yield after["clip_from_s"], after["session_start_s"] - end


def in_doubt(clip, part, t):
    """Between where a dropout is and where it was found: judged by its place, not by the placement there."""
    for dropout in part["dropouts"]:
        found = min((at for at, _ in steps(clip)), key=lambda at: abs(at - dropout["at_s"]), default=dropout["at_s"])
        if min(found, dropout["at_s"]) <= t <= max(found, dropout["at_s"]):
            return True
    return False


def errors_of(clip, parts, reference_ppm):
    return [placed(clip["pieces"], t) - true_time(part, t, clip_from, reference_ppm)
            for t, part, clip_from in probes(parts) if not in_doubt(clip, part, t)]


def check_dropouts(report, clip, parts):
    left = [(at, size) for at, size in steps(clip) if abs(size) > STEP_LIMIT_S]
    for dropout in [d for part, _ in parts for d in part["dropouts"]]:
        size = dropout["length_s"]
        near = min(left, key=lambda step: abs(step[0] - dropout["at_s"]), default=None)
        if near is None:
            report.line(f"    {size:.4f} s lost at {dropout['at_s']:.2f} s of the clip: not found", "dropout missed")
            continue
        left.remove(near)
        place_error, size_error = near[0] - dropout["at_s"], near[1] - size
        wrong = abs(place_error) > DROPOUT_PLACE_LIMIT_S or abs(size_error) > DROPOUT_SIZE_LIMIT_S
        report.line(f"    {size:.4f} s lost at {dropout['at_s']:.2f} s of the clip: found, place {place_error:+.2f} s, "
                    f"size {size_error * 1e3:+.2f} ms", "dropout wrong" if wrong else "")
    for at, size in left:
        report.line(f"    a step of {size:.4f} s at {at:.2f} s", "no such dropout")


def check_parts(report, parts, truth):
    """All parts of one recording in one clip, at the right clip times."""
    first = parts[0][0]
    whole = [f for f in truth["files"] if f["clip"] == first["clip"] and f["readable"]]
    if [f["file"] for f in whole] != [part["file"] for part, _ in parts]:
        report.line("    parts of one recording: " + ", ".join(f["file"] for f in whole), "not joined")
        return
    expected = 0.0
    for part, clip_from in parts:
        if abs(clip_from - expected) > 0.001:
            report.line(f"    {part['file']} begins at {clip_from:.4f} s instead of {expected:.4f} s", "badly joined")
        expected += part["length_s"]


def check_clip(report, clip, parts, errors, shift):
    name = f"{clip['camera']:9} {parts[0][0]['file']:22} {clip['basis']:6}"
    if not clip["pieces"]:
        report.line(f"{name} refused", "not placed")
        return
    worst = max(errors, key=lambda e: abs(e - shift)) - shift
    sigma = max(p["sigma_s"] for p in clip["pieces"])
    text = f"{name} start {(errors[0] - shift) * 1e3:+9.2f} ms  worst {worst * 1e3:+9.2f} ms  sigma {sigma * 1e3:8.2f} ms"
    has_sound = all(part["sound"] for part, _ in parts)
    fault = ""
    if has_sound and clip["basis"] != "audio":
        fault = "not placed by sound"
    elif has_sound and abs(worst) > AUDIO_LIMIT_S:
        fault = f"more than {AUDIO_LIMIT_S * 1e3:.0f} ms"
    elif not has_sound and abs(worst) > SIGMAS * sigma:
        fault = f"more than {SIGMAS} sigma"
    report.line(text, fault)


def check_placements(report, truth, align):
    known = {f["file"]: f for f in truth["files"]}
    rates = {c["name"]: c["rate_ppm"] for c in truth["cameras"]}
    reference_ppm = rates.get(align.get("reference"), 0.0)
    judged, seen = [], set()
    for clip in align["clips"]:
        parts = [(known[p["file"]], p["clip_from_s"]) for p in clip["parts"] if p["file"] in known]
        seen.update(part["file"] for part, _ in parts)
        if parts:
            judged.append((clip, parts, errors_of(clip, parts, reference_ppm) if clip["pieces"] else []))
        else:
            report.line(str([p["file"] for p in clip["parts"]]), "no such clip")
    by_sound = [e for clip, _, errors in judged if clip["basis"] == "audio" for e in errors]
    shift = statistics.median(by_sound) if by_sound else 0.0
    print(f"Clips (reference: {align.get('reference')})")
    report.line(f"zero of the session clock {shift * 1e3:+.2f} ms", "zero" if abs(shift) > SHIFT_LIMIT_S else "")
    for clip, parts, errors in judged:
        check_clip(report, clip, parts, errors, shift)
        check_parts(report, parts, truth)
        if clip["pieces"]:
            check_dropouts(report, clip, parts)
    for name in sorted(f["file"] for f in truth["files"] if f["readable"] and f["file"] not in seen):
        report.line(name, "missing")


def check_unreadable(report, truth, align):
    print("Files that cannot be read")
    named = {u["file"]: u.get("why", "") for u in align.get("unreadable", [])}
    for file in truth["files"]:
        name = file["file"]
        if not file["readable"]:
            report.line(f"{name}: {named.get(name, '')}", "" if named.get(name) else "not named")
        elif name in named:
            report.line(f"{name}: {named[name]}", "is readable")


def check_hours(report, truth, hours):
    print("Hours")
    found = {}
    for row in hours["rows"]:
        key = (row["task"], row["person"])
        found[key] = found.get(key, 0) + row["seconds"]
    for row in truth["hours"]:
        key = (row["task"], row["person"])
        got = found.pop(key, 0)
        wrong = abs(got - row["seconds"]) > 1e-3
        report.line(f"{key[0]:34} {key[1]:14} {got:7.0f} s", f"should be {row['seconds']} s" if wrong else "")
    for key, seconds in found.items():
        report.line(f"{key[0]} {key[1]} {seconds} s", "no such hours")
    for total in ("person_seconds", "elapsed_seconds"):
        wrong = abs(hours[total] - truth[total]) > 1e-3
        report.line(f"{total:49} {hours[total]:7.0f} s", f"should be {truth[total]} s" if wrong else "")


def main():
    if len(sys.argv) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    truth, align, hours = (load(path) for path in sys.argv[1:])
    report = Report()
    try:
        check_placements(report, truth, align)
        check_unreadable(report, truth, align)
        check_hours(report, truth, hours)
    except (KeyError, TypeError, IndexError) as problem:
        print(f"check_truth.py: a document lacks what was promised: {problem!r}", file=sys.stderr)
        return 2
    print("Everything agrees with the truth." if report.faults == 0 else f"{report.faults} disagreements.")
    return 1 if report.faults else 0


if __name__ == "__main__":
    sys.exit(main())
