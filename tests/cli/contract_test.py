"""The command line as others' programs use it: arguments in, exit status and one JSON document out.

Footage is made here with numpy and ffmpeg: one scene of irregular clicks and noise bursts, heard by two cameras. ffmpeg and ffprobe are the
outside reference for what the files hold. Run: contract_test.py JIGTIME
"""
import csv
import json
import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
import unittest
import wave
from pathlib import Path

import numpy as np
from scipy.signal import correlate

JIGTIME = ""
RATE = 16000


def write_wav(path, samples):
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes())


def scene(seconds, seed):
    random = np.random.default_rng(seed)
    sound = random.normal(0, 0.002, seconds * RATE)
    at = 0.5
    while at < seconds - 1:
        length = random.uniform(0.02, 0.3)
        first = int(at * RATE)
        burst = random.normal(0, 1, int(length * RATE)) * np.exp(-np.arange(int(length * RATE)) / RATE / (length / 4))
        sound[first:first + len(burst)] += random.uniform(0.05, 0.4) * burst
        at += random.uniform(0.15, 1.6)
    return sound


def ffmpeg(*arguments):
    subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-y", *map(str, arguments)], check=True)


def zero_of_day(journal):
    """Seconds after midnight UTC at which the one session's clock stood at zero, to the nanosecond: what is printed is cut off to seconds."""
    with sqlite3.connect(journal) as rows:
        (zero_ns,), = rows.execute("SELECT zero_ns FROM session")
    return zero_ns % (86400 * 10**9) / 1e9


def film(path, sound, created, *extra, picture="testsrc=size=160x90:rate=25"):
    """An mp4 with a picture and the sound given, stamped as a camera would."""
    wav = path.with_suffix(".tmp.wav")
    write_wav(wav, sound)
    ffmpeg("-f", "lavfi", "-i", picture, "-i", wav, "-shortest", "-c:v", "libx264", "-preset", "ultrafast", "-g", "25", "-c:a", "aac",
           "-b:a", "96k", "-metadata", "creation_time=" + created, *extra, path)
    wav.unlink()


class Case(unittest.TestCase):
    """One folder with a journal a test; the footage is made once."""

    @classmethod
    def setUpClass(cls):
        cls.shelf = Path(tempfile.mkdtemp(prefix="jigtime-cli-"))
        cls.addClassCleanup(shutil.rmtree, cls.shelf, ignore_errors=True)
        os.environ["XDG_CACHE_HOME"] = str(cls.shelf / "cache")
        cls.make_footage()

    @classmethod
    def make_footage(cls):
        pass

    def setUp(self):
        self.desk = Path(tempfile.mkdtemp(dir=self.shelf))
        self.journal = self.desk / "elevator.jigtime"

    def run_it(self, *arguments, expect=0):
        done = subprocess.run([JIGTIME, *map(str, arguments)], capture_output=True, text=True, timeout=300)
        self.assertEqual(done.returncode, expect, f"{arguments}\n{done.stdout}\n{done.stderr}")
        return done

    def ask(self, *arguments, expect=0):
        """With --json: exactly one document on stdout."""
        return json.loads(self.run_it(*arguments, "--json", expect=expect).stdout)

    def new(self):
        self.run_it("new", self.journal, "--build", "Marten, serial 7", "--zone", "Europe/Lisbon")


class Usage(Case):
    def test_every_command_has_help_with_an_example(self):
        for command in ("new import align place show person assembly task tag tags mark hours rivets callout noise checklist regime photos stills detect seal verify find "
                        "export film book").split():
            with self.subTest(command):
                text = self.run_it(command, "--help").stdout
                self.assertIn("Example:\n  jigtime " + command, text)
                self.assertIn("--json", text)

    def test_wrong_usage_is_exit_2_and_says_what_is_wrong(self):
        self.new()
        for arguments in (["fly"], ["new"], ["new", self.desk / "b.jigtime"], ["hours"], ["hours", self.journal, "--by", "moon"],
                          ["import", self.journal, "--camera", "bench"], ["import", self.journal, "--camera", "=x"],
                          ["hours", self.journal, "--from", "14.3.2026"], ["callout", "no such thing"], ["callout", "MS20470AD4"],
                          ["new", self.desk / "c.jigtime", "--build", "x", "--zone", "Moon/Base"],
                          ["tag", self.journal, "--session", "2026-03-14", "--from", "1:00", "--to", "0:02:00", "--task", "x"],
                          ["person", self.journal, "sell", "Mara"], ["--json"]):
            with self.subTest(arguments=arguments):
                done = self.run_it(*arguments, expect=2)
                self.assertTrue(done.stderr.strip())

    def test_without_a_screen_the_window_says_so_and_changes_nothing(self):
        self.new()
        before = self.journal.read_bytes()
        screenless = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
        for arguments in ([], [str(self.journal)]):
            with self.subTest(arguments=arguments):
                done = subprocess.run([JIGTIME, *arguments], capture_output=True, text=True, timeout=60, env=screenless)
                self.assertEqual((done.returncode, done.stdout), (3, ""), done.stderr)
                self.assertIn("no screen", done.stderr)
                self.assertIn("jigtime --help", done.stderr)
        self.assertEqual(self.journal.read_bytes(), before)

    def test_errors_are_one_json_document_too(self):
        document = self.ask("hours", self.desk / "none.jigtime", expect=3)
        self.assertEqual(document["error"]["code"], "not found")

    def test_a_journal_is_never_overwritten(self):
        self.new()
        before = self.journal.read_bytes()
        self.run_it("new", self.journal, "--build", "Other", expect=3)
        self.assertEqual(self.journal.read_bytes(), before)

    def test_what_is_no_journal_is_refused_and_not_touched(self):
        for content in (b"", b"a text, not a journal\n" * 100, os.urandom(5000)):
            path = self.desk / "odd.jigtime"
            path.write_bytes(content)
            done = self.run_it("show", path, expect=3)
            self.assertIn("odd.jigtime", done.stderr)
            self.assertEqual(path.read_bytes(), content)

    def test_a_journal_of_a_newer_version_is_refused_kindly_and_not_touched(self):
        self.new()
        with sqlite3.connect(self.journal) as database:
            database.execute("PRAGMA user_version = 9000")
        database.close()
        before = self.journal.read_bytes()
        done = self.run_it("show", self.journal, expect=3)
        self.assertIn("newer", done.stderr)
        self.assertEqual(self.journal.read_bytes(), before)

    def test_another_process_that_writes_makes_us_wait_and_then_say_busy(self):
        self.new()
        other = sqlite3.connect(self.journal, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        self.assertEqual(self.ask("person", self.journal, "add", "Mara", expect=3)["error"]["code"], "busy")
        other.execute("ROLLBACK")
        other.close()
        self.run_it("person", self.journal, "add", "Mara")

    def test_a_reader_is_not_stopped_by_a_writer(self):
        self.new()
        other = sqlite3.connect(self.journal, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        self.assertEqual(self.ask("show", self.journal)["build"], "Marten, serial 7")
        other.close()

    def test_callouts_are_explained(self):
        document = self.ask("callout", "an426ad3-3.5")
        self.assertEqual(document["callout"], "MS20426AD3-3.5")
        self.assertAlmostEqual(document["length_in"], 0.21875)
        self.assertTrue(document["caution"])
        self.assertEqual(self.ask("callout", "MS20470AD4-5", "--grip", "0,125")["grip"], self.ask("callout", "MS20470AD4-5", "--grip", "0.125")["grip"])
        for grip in ("1/8", "0", "-0.1", "nan", "4.1", "thick"):
            with self.subTest(grip):
                self.assertIn("for example 0.064", self.ask("callout", "MS20470AD4-5", "--grip=" + grip, expect=2)["error"]["message"])


class Footage(Case):
    DAY = "2026-03-14"

    @classmethod
    def make_footage(cls):
        sound = scene(100, 7)
        cards = cls.shelf / "cards"
        for name in ("bench", "overhead"):
            (cards / name).mkdir(parents=True)
        whole = cls.shelf / "whole.mp4"
        film(whole, sound[:88 * RATE], "2026-03-14T09:00:00Z")
        ffmpeg("-i", whole, "-c", "copy", "-f", "segment", "-segment_time", "45", "-reset_timestamps", "1",
               "-metadata", "creation_time=2026-03-14T09:00:00Z", cards / "bench" / "c%04d.mp4")
        # An hour off, as after a clock change; ten seconds into the scene.
        film(cards / "overhead" / "v17.mp4", 0.3 * sound[10 * RATE:] + np.random.default_rng(3).normal(0, 0.003, 90 * RATE),
             "2026-03-14T10:00:10Z", picture="testsrc2=size=192x108:rate=30000/1001")
        cls.cards = cards

    def imported(self, expect=0):
        self.new()
        return self.ask("import", self.journal, "--session", self.DAY, "--camera", f"bench={self.cards / 'bench'}",
                        "--camera", f"overhead={self.cards / 'overhead'}", expect=expect)

    def test_the_main_job_from_cards_to_export(self):
        report = self.imported()
        self.assertEqual([clip["files"] for clip in report["clips"]], [["c0000.mp4", "c0001.mp4"], ["v17.mp4"]])

        document = self.ask("align", self.journal, "--session", self.DAY)
        self.assertEqual(document["session"], self.DAY)
        clips = {clip["camera"]: clip for clip in document["clips"]}
        self.assertEqual(set(clips), {"bench", "overhead"})
        self.assertIn(document["reference"], clips)
        starts = {}
        for camera, clip in clips.items():
            self.assertEqual(clip["basis"], "audio", clip["notes"])
            (piece,) = clip["pieces"]
            self.assertEqual(piece["clip_from_s"], 0)
            self.assertLess(piece["sigma_s"], 0.02)
            self.assertTrue(clip["evidence"][0]["with"].endswith(".mp4"))
            starts[camera] = piece["session_start_s"]
        self.assertAlmostEqual(min(starts.values()), 0, places=6)
        self.assertAlmostEqual(starts["overhead"] - starts["bench"], 10, delta=0.002)
        # ffmpeg cut at a key picture near 45 s; ffprobe counts the first part's pictures.
        probe = subprocess.run(["ffprobe", "-v", "error", "-count_packets", "-select_streams", "v", "-show_entries", "stream=nb_read_packets",
                                "-of", "csv=p=0", self.cards / "bench" / "c0000.mp4"], capture_output=True, text=True, check=True)
        self.assertAlmostEqual(clips["bench"]["parts"][1]["clip_from_s"], int(probe.stdout.strip().strip(",")) / 25, places=6)
        offsets = {camera["name"]: camera["clock_offset_s"] for camera in document["cameras"]}
        self.assertAlmostEqual(offsets["overhead"] - offsets["bench"], 3600, delta=2)

        self.ask("tag", self.journal, "--session", self.DAY, "--from", "0:00:10", "--to", "0:01:00", "--task", "Rivet skin to ribs",
                 "--assembly", "Tail / Elevator, left", "--person", "Mara", "--person", "Joost", "--fastener", "AN426AD3-4=58-2",
                 "--note", "two drilled out: Ünïcode & <b>")
        self.ask("tag", self.journal, "--session", self.DAY, "--from", "0:00:20", "--to", "0:00:25", "--break", "--person", "Joost")
        self.ask("mark", self.journal, "--session", self.DAY, "--at", "0:00:30.5", "--note", "smoked rivet")
        hours = self.ask("hours", self.journal)
        self.assertEqual({row["person"]: row["seconds"] for row in hours["rows"]}, {"Mara": 50, "Joost": 45})
        self.assertEqual((hours["person_seconds"], hours["elapsed_seconds"], hours["unfilmed_seconds"]), (95, 50, 0))
        self.assertEqual(self.ask("hours", self.journal, "--by", "task")["rows"][0]["seconds"], 95)
        self.assertEqual(self.ask("hours", self.journal, "--from", "2026-03-15")["rows"], [])
        (row,) = self.ask("rivets", self.journal)["rows"]
        self.assertEqual((row["callout"], row["set"], row["drilled"]), ("MS20426AD3-4", 58, 2))
        self.assertEqual({hit["kind"] for hit in self.ask("find", self.journal, "unicode")["hits"]}, {"span"})
        (hit,) = self.ask("find", self.journal, "smoked riv")["hits"]
        self.assertEqual((hit["session"], hit["begin_s"], hit["kind"]), (self.DAY, 30.5, "mark"))

        out = self.desk / "out"
        files = [Path(file) for file in self.ask("export", self.journal, "--session", self.DAY, "--to", out)["files"]]
        self.assertLessEqual({"timeline.html", "timeline.pdf", "hours.csv", "timeline.otio", "session.json", "film.ffmetadata"}, {file.name for file in files})
        self.assertEqual({file.parent.name for file in files if file.suffix == ".vtt"}, {"chapters"})
        page = (out / "timeline.html").read_text(encoding="utf-8")
        self.assertIn("data:image/jpeg;base64,", page)
        subprocess.run(["xmllint", "--noout", "--nonet", out / "timeline.html"], check=True)
        with open(out / "hours.csv", newline="", encoding="utf-8") as table:
            rows = list(csv.reader(table, strict=True))
        self.assertEqual(len({len(row) for row in rows}), 1)
        self.run_it("export", self.journal, "--session", self.DAY, "--to", out)
        (out / "timeline.html").write_text("my own page")
        self.run_it("export", self.journal, "--session", self.DAY, "--to", out, expect=3)
        self.assertEqual((out / "timeline.html").read_text(), "my own page")

        self.assertEqual(self.ask("seal", self.journal, "--session", self.DAY)["number"], 1)
        self.assertTrue(self.ask("verify", self.journal)["ok"])
        self.assertEqual(self.ask("mark", self.journal, "--session", self.DAY, "--at", "0:00:31", "--note", "late", expect=3)["error"]["code"],
                         "conflict")
        self.run_it("align", self.journal, "--session", self.DAY, expect=3)

    def test_the_offset_agrees_with_scipys_correlation_of_what_ffmpeg_decodes(self):
        # Outside reference: ffmpeg's own decoding from each file's first picture, scipy.signal.correlate, a parabola through the peak.
        def heard(path):
            raw = subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-i", path, "-vn", "-ac", "1", "-ar", str(RATE), "-f", "f32le", "-"],
                                 capture_output=True, check=True).stdout
            begins = {}
            probe = subprocess.run(["ffprobe", "-v", "error", "-show_entries", "stream=codec_type,start_time", "-of", "csv=p=0", path],
                                   capture_output=True, text=True, check=True).stdout
            for line in probe.split():
                kind, begin = line.strip(",").split(",")
                begins[kind] = float(begin)
            return np.frombuffer(raw, "<f4").astype(float), begins["audio"] - begins["video"]

        self.imported()
        starts = {clip["camera"]: clip["pieces"][0]["session_start_s"] for clip in self.ask("align", self.journal)["clips"]}
        a, begin_a = heard(self.cards / "bench" / "c0000.mp4")
        b, begin_b = heard(self.cards / "overhead" / "v17.mp4")
        correlation = correlate(a, b, method="fft")
        peak = int(np.argmax(correlation))
        left, middle, right = correlation[peak - 1:peak + 2]
        lag = peak + 0.5 * (left - right) / (left - 2 * middle + right) - (len(b) - 1)
        self.assertAlmostEqual(starts["overhead"] - starts["bench"], lag / RATE + begin_a - begin_b, delta=0.001)

    def test_sources_are_never_changed(self):
        files = sorted(self.cards.rglob("*.mp4"))
        before = [(file.stat().st_mtime_ns, file.read_bytes()) for file in files]
        self.imported()
        self.ask("align", self.journal)
        self.assertEqual([(file.stat().st_mtime_ns, file.read_bytes()) for file in files], before)

    def test_importing_twice_adds_nothing_and_a_moved_folder_is_followed(self):
        self.imported()
        again = self.ask("import", self.journal, "--camera", f"bench={self.cards / 'bench'}")
        self.assertEqual((again["clips"], again["known_already"]), ([], 2))
        away = self.desk / "moved"
        shutil.copytree(self.cards / "bench", away)
        hidden = self.cards / "bench.away"
        (self.cards / "bench").rename(hidden)
        try:
            moved = self.ask("import", self.journal, "--camera", f"bench={away}")
            self.assertEqual((moved["clips"], moved["relinked"]), ([], 2))
            self.ask("align", self.journal)
        finally:
            hidden.rename(self.cards / "bench")

    def test_the_session_is_told_from_the_clocks_when_it_is_not_said(self):
        self.new()
        report = self.ask("import", self.journal, "--camera", f"bench={self.cards / 'bench'}")
        self.assertEqual({clip["session"] for clip in report["clips"]}, {self.DAY})

    def test_a_manual_place_is_held_by_the_next_line_up(self):
        self.imported()
        self.ask("align", self.journal)
        self.ask("place", self.journal, "--session", self.DAY, "--clip", "v17.mp4", "--at", "0:00:20.250")
        document = self.ask("align", self.journal)
        (clip,) = [clip for clip in document["clips"] if clip["camera"] == "overhead"]
        self.assertEqual(clip["basis"], "manual")
        self.assertAlmostEqual(clip["pieces"][0]["session_start_s"], 20.25, places=6)
        self.assertTrue(any("sound" in note for note in clip["notes"]), clip["notes"])
        self.run_it("place", self.journal, "--session", self.DAY, "--clip", "none.mp4", "--at", "0:00:20", expect=3)

    def test_a_tie_places_a_clip_that_cannot_be_heard_until_it_is_taken_out(self):
        self.imported()
        deaf = self.desk / "deaf"
        deaf.mkdir()
        # No sound and no clock that could tell: the stamp is another day's.
        ffmpeg("-f", "lavfi", "-i", "testsrc=size=160x90:rate=25:duration=12", "-c:v", "libx264", "-metadata", "creation_time=2019-01-01T00:00:00Z", deaf / "d1.mp4")
        self.run_it("import", self.journal, "--session", self.DAY, "--camera", f"shelf={deaf}")
        clips = {clip["parts"][0]["file"]: clip for clip in self.ask("align", self.journal, expect=1)["clips"]}
        self.assertIn(clips["d1.mp4"]["basis"], ("none", "clock"))
        (other,) = [name for name in clips if name.startswith("v17")]
        tie = ["tie", self.journal, "--session", self.DAY]
        self.assertEqual(self.ask(*tie), {"ties": []})
        made = self.ask(*tie, "--at", "d1.mp4=0:00:05", "--at", f"{other}=0:00:07.250")
        self.assertEqual(made["ties"][0]["a"], {"file": "d1.mp4", "at_s": 5.0})
        self.assertEqual(made["ties"][0]["b"], {"file": other, "at_s": 7.25})
        for _ in range(2):  # the second line-up finds the place anew and does not take it for one placed by hand
            clips = {clip["parts"][0]["file"]: clip for clip in self.ask("align", self.journal)["clips"]}
            self.assertEqual(clips["d1.mp4"]["basis"], "manual")
            piece, anchor = clips["d1.mp4"]["pieces"][0], clips[other]["pieces"][0]
            self.assertAlmostEqual(piece["session_start_s"] + 5 * (1 + piece["rate_ppm"] * 1e-6),
                                   anchor["session_start_s"] + 7.25 * (1 + anchor["rate_ppm"] * 1e-6), places=2)
        why = self.ask("align", self.journal, "--session", self.DAY, "--explain", "d1.mp4")
        self.assertTrue(any("tied" in sentence for sentence in why["sentences"]), why)
        there = ["--at", f"{other}=0:00:07"]
        self.run_it(*tie, "--at", "d1.mp4=0:00:05", expect=2)
        self.run_it(*tie, "--at", "d1.mp4", *there, expect=2)
        for wrong, word in ((["--at", "d1.mp4=0:05:00", *there], "lasts"), (["--at", "nobody.mp4=0:00:05", *there], "d1.mp4"),
                            (["--at", "d1.mp4=0:00:01", "--at", "d1.mp4=0:00:02"], "camera")):
            self.assertIn(word, self.run_it(*tie, *wrong, expect=3).stderr)
        self.assertEqual(self.ask(*tie, "--remove", "1"), {"ties": []})
        self.run_it(*tie, "--remove", "1", expect=3)
        clips = {clip["parts"][0]["file"]: clip for clip in self.ask("align", self.journal, expect=1)["clips"]}
        self.assertNotEqual(clips["d1.mp4"]["basis"], "manual")

    def test_what_the_builder_says_of_the_beginning_holds_when_clips_are_lined_up_again(self):
        self.imported()
        told = self.ask("align", self.journal)
        self.assertFalse(told["zero_fixed"])
        offsets = {camera["name"]: camera["clock_offset_s"] for camera in told["cameras"]}
        moved = zero_of_day(self.journal) - 8.5 * 3600
        self.assertTrue(self.ask("session", self.journal, "--session", self.DAY, "--began", "8:30:00")["zero_fixed"])
        for document in (self.ask("show", self.journal, "--session", self.DAY), self.ask("align", self.journal)):
            self.assertEqual((document["zero"], document["zero_fixed"]), ("2026-03-14T08:30:00Z", True))
            for camera in document["cameras"]:
                self.assertAlmostEqual(camera["clock_offset_s"] - offsets[camera["name"]], moved, places=6)
            self.assertEqual([clip["pieces"] for clip in document["clips"]], [clip["pieces"] for clip in told["clips"]])
        # The second line-up changed nothing, so the last thing done is what was said.
        self.assertIn("change a session", self.run_it("undo", self.journal).stdout)
        shown = self.ask("show", self.journal, "--session", self.DAY)
        self.assertEqual((shown["zero"], shown["zero_fixed"], shown["cameras"]), (told["zero"], False, told["cameras"]))
        self.ask("redo", self.journal)
        self.run_it("session", self.journal, "--session", self.DAY, "--began", "8:00:00", "--began-by-clocks", expect=2)
        self.ask("session", self.journal, "--session", self.DAY, "--began-by-clocks")
        document = self.ask("align", self.journal)
        self.assertEqual((document["zero"], document["zero_fixed"], document["cameras"]), (told["zero"], False, told["cameras"]))

    def test_when_an_earlier_clip_turns_up_everything_moves_with_the_footage_it_was_tagged_on(self):
        self.new()
        day = ("--session", self.DAY)
        self.ask("import", self.journal, *day, "--camera", f"overhead={self.cards / 'overhead'}")
        self.ask("align", self.journal)
        self.ask("session", self.journal, *day, "--began", "9:00:10")
        self.ask("tag", self.journal, *day, "--from", "0:00:05", "--to", "0:00:40", "--task", "Rivet", "--person", "Mara")
        self.ask("mark", self.journal, *day, "--at", "0:00:20", "--note", "smoked")
        self.ask("item", self.journal, "open", "--kind", "redo", "--words", "rib 4", *day, "--at", "0:00:21")
        self.ask("inspection", self.journal, "add", "--date", self.DAY, "--person", "R. Vane", "--looked-at", "skin", *day, "--at", "0:00:30")
        self.ask("stills", self.journal, *day)
        self.ask("import", self.journal, *day, "--camera", f"bench={self.cards / 'bench'}")
        document = self.ask("align", self.journal)
        (clip,) = [clip for clip in document["clips"] if clip["camera"] == "overhead"]
        later = clip["pieces"][0]["session_start_s"]
        self.assertAlmostEqual(later, 10, delta=0.002)
        self.assertAlmostEqual(zero_of_day(self.journal), 9 * 3600 + 10 - later, places=5)
        shown = self.ask("show", self.journal, *day)
        self.assertAlmostEqual(shown["spans"][0]["begin_s"], 5 + later, places=6)
        self.assertAlmostEqual(shown["marks"][0]["at_s"], 20 + later, places=6)
        self.assertAlmostEqual(self.ask("item", self.journal, "list")["items"][0]["at_s"], 21 + later, places=6)
        self.assertAlmostEqual(self.ask("inspection", self.journal, "list")["inspections"][0]["at_s"], 30 + later, places=6)
        with sqlite3.connect(self.journal) as rows:
            (at_ns,), = rows.execute("SELECT at_ns FROM still")
        self.assertAlmostEqual(at_ns / 1e9, 20 + later, places=6)

    def test_why_a_clip_lies_where_it_lies_is_told_and_nothing_changes(self):
        self.imported()
        before = self.ask("align", self.journal)
        why = self.ask("align", self.journal, "--explain", "v17.mp4")
        self.assertEqual((why["file"], why["camera"], why["basis"]), ("v17.mp4", "overhead", "audio"))
        self.assertTrue(any("heard the same sounds" in sentence for sentence in why["sentences"]), why)
        self.assertEqual(self.ask("align", self.journal), before)
        self.run_it("align", self.journal, "--explain", "none.mp4", expect=3)

    def test_a_second_line_up_gives_the_same_answer_from_the_cache_and_without_it(self):
        self.imported()
        first = self.ask("align", self.journal)
        self.assertEqual(self.ask("align", self.journal), first)
        for file in (self.shelf / "cache" / "jigtime").iterdir():
            file.write_bytes(file.read_bytes()[:100])
        self.assertEqual(self.ask("align", self.journal), first)

    def test_interrupting_leaves_a_sound_journal(self):
        self.imported()
        shutil.rmtree(self.shelf / "cache", ignore_errors=True)
        process = subprocess.Popen([JIGTIME, "align", str(self.journal)], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        time.sleep(0.05)
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=60)
        self.assertIn(process.returncode, (0, 3, -signal.SIGINT))
        with sqlite3.connect(self.journal) as database:
            self.assertEqual(database.execute("PRAGMA integrity_check").fetchone(), ("ok",))
        database.close()
        self.ask("align", self.journal)

    def test_rules_refuse_bad_spans_and_leave_the_journal_as_it_was(self):
        self.imported()
        base = ["tag", self.journal, "--session", self.DAY]
        for arguments in (["--from", "0:01:00", "--to", "0:00:30", "--task", "x"], ["--from", "0:00:01", "--to", "0:00:01", "--task", "x"],
                          ["--from", "0:00:01", "--to", "0:00:02", "--task", "x", "--fastener", "MS20470ZZ4-5=3"],
                          ["--from", "0:00:01", "--to", "0:00:02", "--task", "x", "--fastener", "MS20470AD4-5=3-4"],
                          ["--from", "0:00:01", "--to", "0:00:02", "--task", "x", "--fastener", "MS20470AD4-5"],
                          ["--from", "0:00:01", "--to", "0:00:02"]):
            with self.subTest(arguments=arguments):
                self.run_it(*base, *arguments, expect=2)
        self.run_it("tag", self.journal, "--session", "2025-01-01", "--from", "0:00:01", "--to", "0:00:02", "--task", "x", expect=3)
        document = self.ask("show", self.journal, "--session", self.DAY)
        self.assertEqual(document["spans"], [])
        self.assertEqual(self.ask("find", self.journal, "x")["hits"], [])

    def test_a_table_is_taken_whole_or_not_at_all(self):
        self.imported()
        table = self.desk / "tags.csv"
        table.write_text("from,to,task,people,fasteners\n0:00:01,0:00:02,a,Mara,\n0:00:09,0:00:03,b,Mara,\n0:00:04,0:00:05,c,Mara,ZZ=1\n")
        done = self.run_it("tags", self.journal, "--session", self.DAY, "--read", table, expect=3)
        self.assertIn("line 3", done.stderr)
        self.assertIn("line 4", done.stderr)
        self.assertEqual(self.ask("hours", self.journal)["rows"], [])
        table.write_text("from,to,task,people,fasteners\n0:00:01,0:00:02,a,Mara,\n0:00:03,0:00:09,b,Mara,MS20470AD4-5=2\n")
        self.assertEqual(len(self.ask("tags", self.journal, "--session", self.DAY, "--read", table)["spans"]), 2)


class BadFootage(Case):
    @classmethod
    def make_footage(cls):
        cls.card = cls.shelf / "card"
        cls.card.mkdir()
        sound = scene(8, 11)
        film(cls.card / "good.mp4", sound, "2026-03-14T09:00:00Z")
        (cls.card / "text.mp4").write_text("this is no film\n" * 50)
        (cls.card / "empty.mp4").write_bytes(b"")
        whole = (cls.card / "good.mp4").read_bytes()
        (cls.card / "cut.mp4").write_bytes(whole[:len(whole) // 2])
        (cls.card / "index.txt").write_text("contents of the card\n")
        ffmpeg("-f", "lavfi", "-i", "testsrc=size=160x90:rate=25", "-t", "5", "-c:v", "libx264", "-preset", "ultrafast",
               cls.card / "silent.mp4")
        write_wav(cls.card / "sound.wav", sound)
        shutil.copy(cls.card / "silent.mp4", cls.card / "o'neil \"<b>&amp;.mp4")
        ffmpeg("-f", "lavfi", "-i", "testsrc2=size=160x90:rate=25", "-t", "4", "-c:v", "libx264", "-preset", "ultrafast",
               cls.card / "two\nlines ..%2f..'; DROP TABLE span;--.mp4")

    def test_bad_files_are_named_with_what_to_do_and_stop_nothing(self):
        self.new()
        report = self.ask("import", self.journal, "--session", "2026-03-14", "--camera", f"bench={self.card}", expect=1)
        unreadable = {file["file"]: file["why"] for file in report["unreadable"]}
        self.assertEqual(set(unreadable), {"text.mp4", "empty.mp4", "cut.mp4"})
        for why in unreadable.values():
            self.assertGreater(len(why), 20)
        self.assertEqual(report["left_out"], 1)
        names = {name for clip in report["clips"] for name in clip["files"]}
        self.assertIn("good.mp4", names)
        self.assertIn("sound.wav", names)
        self.assertEqual(len(names), 4)  # the two silent copies are one file
        document = self.ask("align", self.journal, expect=1)
        self.assertEqual({file["file"] for file in document["unreadable"]}, set(unreadable))
        self.ask("export", self.journal, "--session", "2026-03-14", "--to", self.desk / "out")
        subprocess.run(["xmllint", "--noout", "--nonet", self.desk / "out" / "timeline.html"], check=True)

    def test_an_empty_folder_and_one_that_is_not_there(self):
        self.new()
        (self.desk / "nothing").mkdir()
        self.ask("import", self.journal, "--session", "2026-03-14", "--camera", f"bench={self.desk / 'nothing'}", expect=1)
        self.assertEqual(self.ask("show", self.journal)["sessions"], [])
        self.ask("import", self.journal, "--session", "2026-03-14", "--camera", f"bench={self.desk / 'no such card'}", expect=3)

    def test_a_full_disk_leaves_no_half_written_export(self):
        if os.geteuid() != 0 or shutil.which("mount") is None:
            self.skipTest("needs a small file system to fill")
        self.new()
        self.ask("import", self.journal, "--session", "2026-03-14", "--camera", f"bench={self.card}", expect=1)
        small = self.desk / "small"
        small.mkdir()
        if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=8k", "tmpfs", small], capture_output=True).returncode != 0:
            self.skipTest("no small file system here")
        try:
            self.assertEqual(self.ask("export", self.journal, "--session", "2026-03-14", "--to", small / "out", expect=3)["error"]["code"],
                             "no space")
            self.assertEqual([file for file in small.rglob("*") if file.is_file()], [])
            self.run_it("new", small / "b.jigtime", "--build", "B", expect=3)
        finally:
            subprocess.run(["umount", small], check=True)


if __name__ == "__main__":
    JIGTIME = sys.argv.pop(1)
    unittest.main(verbosity=2)
