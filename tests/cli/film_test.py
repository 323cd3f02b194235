"""The film through the command line. The footage is made by ffmpeg, and every picture of it carries its number as nine bars of bits; the film is
decoded by ffmpeg and the bars are read back out of each camera's panel. ffprobe says what others see of the file.
Run: film_test.py JIGTIME
"""
import json
import signal
import subprocess
import sys
import time
import unittest

import contract_test
import numpy as np
from contract_test import Case, RATE, film, scene

DAY = "2026-03-14"
RATE_OF_PICTURES = 25
BARS = "color=black:size=180x100:rate=25,geq=lum='if(gt(mod(floor(N/pow(2,floor(X/20))),2),0),225,30)':cb=128:cr=128"
WIDTH, PANEL_HEIGHT = 640, 180  # two cameras in a row


def probe(path, *entries):
    return json.loads(subprocess.run(["ffprobe", "-v", "error", "-of", "json", *entries, path], capture_output=True, check=True).stdout)


def pictures(path, height):
    raw = subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-i", path, "-pix_fmt", "gray", "-f", "rawvideo", "-"], capture_output=True,
                         check=True).stdout
    return np.frombuffer(raw, np.uint8).reshape(-1, height, WIDTH)


def number(picture, panel):
    """What the bars across a panel say; None where they are no bars."""
    width = WIDTH // 2
    levels = [int(picture[PANEL_HEIGHT // 2, panel * width + int((bit + 0.5) * width / 9)]) for bit in range(9)]
    if any(80 < level < 170 for level in levels):
        return None
    return sum(1 << bit for bit, level in enumerate(levels) if level >= 170)


class Film(Case):
    @classmethod
    def make_footage(cls):
        cls.cards = cls.shelf / "cards"
        sound = scene(16, 5)
        for name, begin, end in (("bench", 0, 16), ("side", 4, 13)):
            (cls.cards / name).mkdir(parents=True)
            film(cls.cards / name / (name + ".mp4"), sound[begin * RATE:end * RATE], f"2026-03-14T09:00:{begin:02}Z", picture=BARS)

    def setUp(self):
        super().setUp()
        self.new()
        self.ask("import", self.journal, "--session", DAY, *(f"--camera={name}={self.cards / name}" for name in ("bench", "side")))
        self.clips = {clip["camera"]: clip for clip in self.ask("align", self.journal)["clips"]}
        self.ask("tag", self.journal, "--session", DAY, "--from", "0:00:02", "--to", "0:00:08", "--task", "Rivet the skin", "--person", "Mara")
        self.ask("tag", self.journal, "--session", DAY, "--from", "0:00:08", "--to", "0:00:11", "--break", "--note", "tea")
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:00:06", "--note", "smoked rivet")
        self.out = self.desk / "film.mp4"

    def wanted(self, camera, session_s):
        """The number of the picture that a camera shows, by what align printed; None while it is off."""
        for piece in self.clips[camera]["pieces"]:
            clip_s = piece["clip_from_s"] + (session_s - piece["session_start_s"]) / (1 + piece["rate_ppm"] * 1e-6)
            if piece["clip_from_s"] <= clip_s < piece["clip_to_s"]:
                return int(clip_s * RATE_OF_PICTURES + 1e-4)
        return None

    def make(self, *more, expect=0, to=None):
        return self.ask("film", self.journal, "--session", DAY, "--to", to or self.out, "--width", WIDTH, *more, expect=expect)

    def check_pictures(self, document):
        shown = pictures(self.out, document["height"])
        self.assertEqual(len(shown), document["pictures"])
        seen = {"bench": 0, "side": 0}
        for n, picture in enumerate(shown):
            at = document["from_s"] + n * document["speed"] / RATE_OF_PICTURES
            for panel, camera in enumerate(document["cameras"]):
                read, want = number(picture, panel), self.wanted(camera, at)
                if read is None or want is None:
                    # Within a picture of where it goes off or on either may hold.
                    near = self.wanted(camera, at - 0.05) is None or self.wanted(camera, at + 0.05) is None
                    self.assertTrue(read == want or near, f"picture {n}, {camera}: {read} instead of {want}")
                    continue
                self.assertLessEqual(abs(read - want), 1 if abs(at * 25 - round(at * 25)) < 0.05 else 0, f"picture {n}, {camera}")
                seen[camera] += 1
        return seen

    def test_a_film_shows_every_camera_at_the_right_instant_and_opens_anywhere(self):
        document = self.make()
        self.assertEqual((document["sound"], document["no_sound"], document["notes"]), ("bench", "", []))
        seen = self.check_pictures(document)
        self.assertGreater(seen["bench"], 380)
        self.assertGreater(seen["side"], 210)
        self.assertLess(seen["side"], 230)
        found = probe(self.out, "-show_streams", "-show_format", "-show_chapters")
        video = next(stream for stream in found["streams"] if stream["codec_type"] == "video")
        sound = next(stream for stream in found["streams"] if stream["codec_type"] == "audio")
        self.assertEqual((video["codec_name"], video["pix_fmt"], video["r_frame_rate"], video["width"]), ("h264", "yuv420p", "25/1", WIDTH))
        self.assertEqual(video["height"] % 2, 0)
        self.assertEqual(sound["codec_name"], "aac")
        self.assertAlmostEqual(float(video["duration"]), document["length_s"], delta=0.001)
        self.assertAlmostEqual(float(sound["duration"]), document["length_s"], delta=0.03)
        chapters = [(round(float(chapter["start_time"]), 2), chapter["tags"]["title"]) for chapter in found["chapters"]]
        self.assertEqual(chapters, [(0.0, "Session of " + DAY), (2.0, "Rivet the skin"), (8.0, "Break: tea")])
        self.assertIn("Marten, serial 7", found["format"]["tags"]["title"])

    def test_faster_than_twice_there_is_no_sound_and_the_instants_are_right(self):
        document = self.make("--speed", "4", "--from", "0:00:01", "--to", "0:00:15")
        self.assertEqual((document["from_s"], document["to_s"], document["sound"]), (1, 15, None))
        self.assertIn("2x", document["no_sound"])
        self.assertEqual(document["pictures"], 88)
        self.check_pictures(document)

    def test_marks_can_run_at_their_own_speed(self):
        document = self.make("--speed", "8", "--speed-at-marks", "1")
        # 0 to 3 s and 9 to 16 s at 8x, 3 to 9 s as filmed.
        self.assertAlmostEqual(document["length_s"], 6 + 10 / 8, delta=0.1)
        self.assertIn("changes", document["no_sound"])

    def test_a_film_made_here_is_written_over_and_nothing_else_unless_told(self):
        self.make("--speed", "50")
        self.make("--speed", "60")
        other = self.desk / "holiday.mp4"
        other.write_bytes(b"somebody's holiday")
        done = self.ask("film", self.journal, "--to", other, "--speed", "60", expect=3)
        self.assertEqual(done["error"]["code"], "conflict")
        self.assertIn("--replace", done["error"]["message"])
        self.assertEqual(other.read_bytes(), b"somebody's holiday")
        self.make("--speed", "60", "--replace", to=other)
        self.assertGreater(len(probe(other, "-show_streams")["streams"]), 0)

    def test_footage_is_never_written_over_also_not_through_another_name(self):
        source = self.cards / "bench" / "bench.mp4"
        before = source.read_bytes()
        link = self.desk / "link.mp4"
        link.symlink_to(source)
        copy = self.desk / "copy.mp4"
        copy.write_bytes(before)
        for to in (source, link, copy):
            with self.subTest(to=to):
                document = self.make("--replace", to=to, expect=3)
                self.assertEqual(document["error"]["code"], "conflict")
                self.assertIn("footage", document["error"]["message"])
        self.assertEqual((source.read_bytes(), copy.read_bytes()), (before, before))

    def test_a_film_that_is_stopped_leaves_what_was_there(self):
        self.make("--speed", "60")
        before = self.out.read_bytes()
        running = subprocess.Popen([contract_test.JIGTIME, "film", self.journal, "--to", self.out, "--width", "3840", "--json"],
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        deadline = time.monotonic() + 60
        while not list(self.desk.glob(".film.mp4.making*")) and time.monotonic() < deadline:
            time.sleep(0.01)
        running.send_signal(signal.SIGINT)
        document = json.loads(running.communicate(timeout=60)[0])
        self.assertEqual((running.returncode, document["error"]["code"]), (3, "cancelled"))
        self.assertEqual(self.out.read_bytes(), before)
        self.assertEqual([path.name for path in self.desk.iterdir() if "making" in path.name], [])

    def test_lost_footage_is_shown_as_lost_and_the_rest_is_made(self):
        away = self.shelf / "side.mp4"
        (self.cards / "side" / "side.mp4").rename(away)
        try:
            document = self.make("--speed", "10", expect=1)
            self.assertIn("side.mp4", " ".join(document["notes"]))
            shown = pictures(self.out, document["height"])
            self.assertIsNotNone(number(shown[20], 0))
            self.assertIsNone(number(shown[20], 1))
        finally:
            away.rename(self.cards / "side" / "side.mp4")

    def test_words_that_mean_nothing_are_refused_with_what_to_do(self):
        refused = {("--speed", "0"): "0.1 to 500", ("--speed", "1000"): "0.1 to 500", ("--width", "10"): "320 to 3840",
                   ("--from", "0:00:09", "--to", "0:00:03"): "between these times", ("--sound", "roof"): "No camera",
                   ("--to", "0:00:03", "--to", "0:00:04"): "two times", ("--to", "b.mp4"): "two files"}
        for words, part in refused.items():
            with self.subTest(words=words):
                self.assertIn(part, self.run_it("film", self.journal, "--to", self.out, *words, expect=2).stderr)
        self.assertIn(".mp4", self.run_it("film", self.journal, "--to", self.desk / "film.avi", expect=2).stderr)
        self.assertIn("FILE.mp4", self.run_it("film", self.journal, "--to", "0:00:03", expect=2).stderr)
        self.run_it("film", self.journal, "--to", self.desk / "nowhere" / "film.mp4", expect=3)
        self.assertFalse(self.out.exists())

    def test_a_session_where_nothing_is_placed_says_to_line_up_first(self):
        other = self.desk / "other.jigtime"
        self.run_it("new", other, "--build", "Marten")
        self.ask("import", other, "--session", DAY, "--camera", f"bench={self.cards / 'bench'}")
        document = self.ask("film", other, "--to", self.out, expect=3)
        self.assertIn("jigtime align", document["error"]["message"])


if __name__ == "__main__":
    contract_test.JIGTIME = sys.argv.pop(1)
    unittest.main(verbosity=2)
