#!/usr/bin/env python3
"""check_truth_test.py CHECK_TRUTH.py: gives the check documents that are right and documents with one fault each."""
import copy
import json
import pathlib
import subprocess
import sys
import tempfile

TRUTH = {
    "cameras": [{"name": "a", "rate_ppm": 20.0}, {"name": "b", "rate_ppm": -30.0}],
    "files": [
        {"camera": "a", "file": "a1", "clip": 1, "readable": True, "sound": True, "session_start_s": 0.0,
         "length_s": 60.0, "rate_ppm": 20.0, "dropouts": []},
        {"camera": "a", "file": "a2", "clip": 1, "readable": True, "sound": True, "session_start_s": 60 * (1 + 20e-6),
         "length_s": 40.0, "rate_ppm": 20.0, "dropouts": []},
        {"camera": "b", "file": "b1", "clip": 2, "readable": True, "sound": True, "session_start_s": 10.0,
         "length_s": 50.0, "rate_ppm": -30.0, "dropouts": [{"at_s": 22.0, "length_s": 0.4}]},
        {"camera": "b", "file": "b2", "clip": 3, "readable": True, "sound": False, "session_start_s": 70.0,
         "length_s": 20.0, "rate_ppm": -30.0, "dropouts": []},
        {"camera": "b", "file": "b3", "clip": 4, "readable": False, "sound": True, "session_start_s": 95.0,
         "length_s": 3.0, "rate_ppm": -30.0, "dropouts": []},
    ],
    "hours": [{"task": "rivet", "person": "P", "seconds": 50}, {"task": "file", "person": "P", "seconds": 10}],
    "person_seconds": 60,
    "elapsed_seconds": 60,
}
HOURS = {"rows": [{"task": "rivet", "person": "P", "role": "builder", "seconds": 50},
                  {"task": "file", "person": "P", "role": "builder", "seconds": 10}],
         "person_seconds": 60, "elapsed_seconds": 60}


def piece(from_s, to_s, start, ppm, sigma=0.001):
    return {"clip_from_s": from_s, "clip_to_s": to_s, "session_start_s": start, "rate_ppm": ppm, "sigma_s": sigma}


def right_align():
    """What a perfect line-up prints: on the rate of camera a, whose clock is 20 ppm slow."""
    k = 1 / (1 + 20e-6)
    ppm_b = ((1 - 30e-6) * k - 1) * 1e6
    after_loss = (10 + (22 + 0.4) * (1 - 30e-6)) * k
    return {
        "reference": "a",
        "clips": [
            {"camera": "a", "basis": "audio", "parts": [{"file": "a1", "clip_from_s": 0.0}, {"file": "a2", "clip_from_s": 60.0}],
             "pieces": [piece(0, 100, 0.0, 0.0)]},
            {"camera": "b", "basis": "audio", "parts": [{"file": "b1", "clip_from_s": 0.0}],
             "pieces": [piece(0, 22, 10 * k, ppm_b), piece(22, 50, after_loss, ppm_b)]},
            {"camera": "b", "basis": "clock", "parts": [{"file": "b2", "clip_from_s": 0.0}],
             "pieces": [piece(0, 20, 70.3, ppm_b, sigma=0.3)]},
        ],
        "unreadable": [{"file": "b3", "why": "it was cut off"}],
    }


def status(check, truth, align, hours):
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for name, document in (("truth", truth), ("align", align), ("hours", hours)):
            path = pathlib.Path(folder, name + ".json")
            path.write_text(document if isinstance(document, str) else json.dumps(document), encoding="utf-8")
            paths.append(str(path))
        done = subprocess.run([sys.executable, check, *paths], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        return done.returncode, done.stdout


def shift_all(align):
    for clip in align["clips"]:
        for one in clip["pieces"]:
            one["session_start_s"] += 0.05


def set_start(clip, by):
    return lambda align, hours: [p.update(session_start_s=p["session_start_s"] + by) for p in align["clips"][clip]["pieces"]]


def one_piece(align, hours):
    del align["clips"][1]["pieces"][1]
    align["clips"][1]["pieces"][0]["clip_to_s"] = 50


FAULTS = {
    "a clip placed 6 ms off": set_start(1, 0.006),
    "a clip placed by its clock 1.5 s off with a standard error of 0.3 s": set_start(2, 1.5),
    "a dropout that was not seen": one_piece,
    "a dropout of another size": lambda a, h: a["clips"][1]["pieces"][1].update(session_start_s=32.45),
    "a dropout far from its place": lambda a, h: (a["clips"][1]["pieces"][0].update(clip_to_s=30),
                                                  a["clips"][1]["pieces"][1].update(clip_from_s=30)),
    "a rate that is wrong": lambda a, h: a["clips"][0]["pieces"][0].update(rate_ppm=150),
    "a clip refused": lambda a, h: a["clips"][1].update(basis="none", pieces=[]),
    "a clip with sound placed by its clock": lambda a, h: a["clips"][1].update(basis="clock"),
    "a clip missing": lambda a, h: a["clips"].pop(2),
    "parts not joined": lambda a, h: a["clips"][0]["parts"].pop(1),
    "parts joined by the length of the sound": lambda a, h: a["clips"][0]["parts"][1].update(clip_from_s=60.021),
    "an unreadable file not named": lambda a, h: a.update(unreadable=[]),
    "a readable file called unreadable": lambda a, h: a["unreadable"].append({"file": "a1", "why": "no"}),
    "a second too much": lambda a, h: h["rows"][0].update(seconds=51),
    "hours missing": lambda a, h: h["rows"].pop(),
    "hours of nobody": lambda a, h: h["rows"].append({"task": "x", "person": "Q", "seconds": 1}),
    "a wrong total": lambda a, h: h.update(elapsed_seconds=59),
}


def main():
    check = sys.argv[1]
    failed = []

    def expect(name, wanted, truth, align, hours):
        got, text = status(check, truth, align, hours)
        print(f"{'ok  ' if got == wanted else 'FAIL'} {name}: {got}")
        if got != wanted:
            failed.append(name)
            print(text)

    expect("everything right", 0, TRUTH, right_align(), HOURS)
    shifted = right_align()
    shift_all(shifted)
    expect("everything right on a clock 50 ms later", 0, TRUTH, shifted, HOURS)
    for name, spoil in FAULTS.items():
        align, hours = right_align(), copy.deepcopy(HOURS)
        spoil(align, hours)
        expect(name, 1, TRUTH, align, hours)
    expect("no JSON at all", 2, TRUTH, "nothing", HOURS)
    expect("a document of another kind", 2, TRUTH, {"clips": [{}]}, HOURS)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
