"""Pictures and lists as evidence, through the command line: stills against ffmpeg's own frames, photos stamped by exiftool, checklists
and regimes. Run: evidence_test.py JIGTIME
"""
import hashlib
import os
import shutil
import subprocess
import sys
import unittest
from pathlib import Path

import contract_test
import numpy as np
from contract_test import Case, ffmpeg, film, scene

DAY = "2026-03-14"
SIZE = (160, 90)


def grey(path, *filters):
    """The first picture of a file as an array, decoded by ffmpeg."""
    raw = subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-i", path, *filters, "-frames:v", "1", "-pix_fmt", "gray", "-f", "rawvideo",
                          "-"], capture_output=True, check=True).stdout
    return np.frombuffer(raw, np.uint8).reshape(SIZE[1], SIZE[0]).astype(float)


class Evidence(Case):
    @classmethod
    def make_footage(cls):
        cls.card = cls.shelf / "card"
        cls.card.mkdir()
        film(cls.card / "a.mp4", scene(10, 21), "2026-03-14T09:00:00Z", picture="testsrc=size=160x90:rate=25")

    def setUp(self):
        super().setUp()
        self.new()
        self.ask("import", self.journal, "--session", DAY, "--camera", f"bench={self.card}")
        self.ask("align", self.journal)

    def test_a_still_is_the_picture_on_show_at_its_mark_and_stays_when_the_footage_is_gone(self):
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:00:03.020", "--note", "smoked rivet")
        report = self.ask("stills", self.journal, "--session", DAY)
        (kept,) = report["kept"]
        self.assertEqual(self.ask("stills", self.journal, "--session", DAY)["known_already"], 1)
        (file,) = self.ask("stills", self.journal, "--session", DAY, "--to", self.desk / "out")["files"]
        self.assertEqual(hashlib.sha256(Path(file).read_bytes()).hexdigest(), kept["digest"])
        still = grey(file)
        errors = {n: np.mean((still - grey(self.card / "a.mp4", "-vf", f"select=eq(n\\,{n})")) ** 2) for n in range(73, 78)}
        self.assertEqual(min(errors, key=errors.get), 75)  # 3.000 to 3.040 at 25 pictures a second
        self.assertLess(errors[75], 10)
        away = self.card / "a.mp4.away"
        (self.card / "a.mp4").rename(away)
        try:
            (again,) = self.ask("stills", self.journal, "--session", DAY, "--to", self.desk / "again")["files"]
            self.assertEqual(Path(again).read_bytes(), Path(file).read_bytes())
            self.ask("stills", self.journal, "--session", DAY, "--at", "0:00:05", expect=3)
            self.assertEqual(self.ask("export", self.journal, "--session", DAY, "--to", self.desk / "page")["notes"], [])
            self.assertIn("data:image/jpeg;base64,", (self.desk / "page" / "timeline.html").read_text(encoding="utf-8"))
        finally:
            away.rename(self.card / "a.mp4")

    def test_a_moment_no_camera_saw_has_no_still(self):
        self.assertEqual(self.ask("stills", self.journal, "--session", DAY, "--at", "0:05:00", expect=3)["error"]["code"], "not found")
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:05:00", "--note", "later")
        report = self.ask("stills", self.journal, "--session", DAY, expect=1)
        self.assertIn("No camera saw 0:05:00.000", report["notes"][0])

    def test_photos_stamped_by_another_program_are_placed_and_sealed_with_their_digests(self):
        if shutil.which("exiftool") is None:
            self.skipTest("exiftool is not here")
        photos = self.desk / "photos"
        photos.mkdir()
        for name, taken in (("a.jpg", "2026:03:14 09:00:04"), ("b.jpg", "2026:03:20 09:00:04")):
            ffmpeg("-f", "lavfi", "-i", f"testsrc=size=160x90:rate=25,drawbox=w={ord(name[0])}", "-frames:v", "1", photos / name)
            subprocess.run(["exiftool", "-q", "-overwrite_original", f"-DateTimeOriginal={taken}", "-OffsetTimeOriginal=+00:00",
                            "-Make=Acme", photos / name], check=True)
        before = {path.name: (path.stat().st_mtime_ns, path.read_bytes()) for path in photos.iterdir()}
        report = self.ask("photos", self.journal, "--session", DAY, "--camera", f"bench={photos}")
        (photo,) = report["added"]
        self.assertEqual((photo["file"], report["other_day"]), ("a.jpg", 1))
        self.assertAlmostEqual(photo["at_s"], 4.5, delta=2 * photo["sigma_s"])
        self.assertLess(photo["sigma_s"], 5)
        (listed,) = self.ask("photos", self.journal, "--session", DAY)["photos"]
        self.assertEqual(listed["taken"], "2026:03:14 09:00:04+00:00")
        self.ask("seal", self.journal, "--session", DAY)
        self.assertTrue(self.ask("verify", self.journal)["ok"])
        self.assertEqual({path.name: (path.stat().st_mtime_ns, path.read_bytes()) for path in photos.iterdir()}, before)


class Lists(Case):
    def setUp(self):
        super().setUp()
        os.environ["XDG_CONFIG_HOME"] = str(self.desk / "settings")
        self.addCleanup(os.environ.pop, "XDG_CONFIG_HOME", None)
        self.new()

    def test_a_checklist_is_taken_filled_in_and_added_up(self):
        self.assertIn("metal-starter", [row["name"] for row in self.ask("checklist", "--shipped")["shipped"]])
        self.ask("task", self.journal, "add", "Rivet wing skins")
        document = self.ask("checklist", self.journal, "--use", "metal-starter", "--set", "3.6=5,3,0,2", "--na", "9.1", "--carry",
                            "3.6=Rivet wing skins")
        self.assertFalse(document["official"])
        (row,) = [row for row in document["rows"] if row["number"] == "3.6"]
        self.assertEqual((row["tenths"], row["tasks"]), ([5, 3, 0, 2], ["Rivet wing skins"]))
        total = document["sum"]
        self.assertEqual((total["builder_fabrication"], total["paid_help"], total["left_out"]), (2, 3, 1))
        self.assertEqual(total["tenths"], 10 * total["rows"])
        self.assertTrue(any("Tasks, not hours" in sentence for sentence in document["sentences"]))

    def test_a_bad_split_changes_nothing_and_says_how_many_tenths_it_makes(self):
        done = self.run_it("checklist", self.journal, "--use", "metal-starter", "--set", "3.6=5,3,0,1", expect=2)
        self.assertIn("9 tenths", done.stderr)
        self.ask("checklist", self.journal, expect=3)
        self.run_it("checklist", self.journal, "--set", "3.6", expect=2)
        self.run_it("checklist", expect=2)

    def test_a_list_printed_as_text_is_read_again_and_a_bad_one_is_told_by_line(self):
        self.ask("checklist", self.journal, "--use", "metal-starter", "--set", "1.1=0,0,0,10")
        path = self.desk / "mine.txt"
        path.write_text(self.ask("checklist", self.journal, "--text")["text"].replace("\n1.2 | 10 0 0 0", "\n1.2 | 0 0 5 5"))
        self.assertEqual(self.ask("checklist", self.journal, "--import", path)["sum"]["builder_assembly"], 5)
        path.write_text(path.read_text().replace("\n1.2 | 0 0 5 5", "\n1.2 | 0 0 5 4"))
        done = self.run_it("checklist", self.journal, "--import", path, expect=3)
        self.assertRegex(done.stderr, r"line \d+: 0 0 5 4 makes 9 tenths")

    def test_a_regime_is_chosen_and_told_with_sources(self):
        names = [row["name"] for row in self.ask("regime", self.journal)["known"]]
        self.assertEqual(names, ["australia", "canada", "eu", "uk", "us"])
        document = self.ask("regime", self.journal, "--use", "us")
        self.assertTrue(all(fact["source"] for key in ("findings", "tasks", "records", "notes") for fact in document[key]))
        self.assertEqual([stage["stage"] for stage in document["inspections"]], ["in-process", "pre-cover", "final"])
        self.assertEqual(self.ask("regime", self.journal)["name"], "us")
        self.run_it("regime", self.journal, "--use", "moon", expect=3)

    def test_rivets_by_location_and_against_a_grip(self):
        self.ask("task", self.journal, "add", "Rivet", "--assembly", "Tail / Elevator", "--plan", "MS20426AD3-3.5=58", "--plan",
                 "MS20426AD3-5=4")
        document = self.ask("rivets", self.journal, "--grip", "Rivet=0.064")
        self.assertEqual([row["left"] for row in document["rows"]], [58, 4])
        self.assertEqual(len(document["warnings"]), 2)
        self.assertEqual(self.ask("rivets", self.journal, "--by", "location")["rows"][0]["location"], "Tail / Elevator")
        self.run_it("rivets", self.journal, "--by", "moon", expect=2)
        self.run_it("rivets", self.journal, "--grip", "Rivet", expect=2)

    def test_noise_and_rules_are_told(self):
        document = self.ask("noise", "92", "--hours", "8")
        self.assertAlmostEqual(document["dose_percent"], 132, delta=0.1)
        self.run_it("noise", "300", expect=2)
        sheet = self.ask("callout", "MS20470AD5-5", "--sheet", "0.050")["sheet"]
        self.assertIn("about 3 times the thickest sheet: 0.1500 in, nearest 5/32 in", sheet[0])
        self.run_it("callout", "MS20470AD5-5", "--sheet", "0", expect=2)
        self.assertTrue(any("Pitch" in rule for rule in self.ask("callout", "MS20470AD4-5")["rules"]))


if __name__ == "__main__":
    contract_test.JIGTIME = sys.argv.pop(1)
    unittest.main(verbosity=2)
