"""Runs the worked example of README.md as it is written there, on footage made here. Run: readme_test.py JIGTIME README"""
import os
import re
import subprocess
import sys
import unittest
from pathlib import Path

import contract_test
from contract_test import Case, film, scene

README = None
HEADING = "## From a day's tags to a sealed entry"


def worked_example():
    text = README.read_text(encoding="utf-8")
    section = text[text.index(HEADING):]
    return re.search(r"```sh\n(.*?)```", section, re.DOTALL).group(1), section[:section.index("\n## ", 3)]


class Readme(Case):
    def test_the_worked_example_runs_as_written_and_says_what_the_text_says(self):
        script, section = worked_example()
        sound = scene(70, 9)
        for camera, heard, created in (("bench", sound, "2026-03-14T09:00:00Z"), ("overhead", 0.4 * sound[3 * 16000:], "2026-03-14T09:00:03Z")):
            card = self.desk / "cards" / camera
            card.mkdir(parents=True)
            film(card / f"{camera}1.mp4", heard, created)
        environment = dict(os.environ, PATH=f"{Path(contract_test.JIGTIME).resolve().parent}:{os.environ['PATH']}")
        done = subprocess.run(["sh", "-eu"], input=script, cwd=self.desk, env=environment, capture_output=True, text=True, timeout=300)
        self.assertEqual(done.returncode, 0, done.stdout + done.stderr)

        journal = self.desk / "marten.jigtime"
        hours = {row["person"]: row["seconds"] for row in self.ask("hours", journal, "--by", "person")["rows"]}
        self.assertIn(f"Mara {hours['Mara']:.0f} s and Joost {hours['Joost']:.0f} s", section)
        rivets = self.ask("rivets", journal)
        left = {row["callout"]: row["left"] for row in rivets["rows"]}
        self.assertIn(f"{left['MS20426AD3-3.5']} and {left['MS20426AD3-4']} are left", section)
        self.assertTrue(any("different lengths" in warning for warning in rivets["warnings"]))
        for line in re.search(r"```\n(.*?)```", section[section.index("The last two commands"):], re.DOTALL).group(1).splitlines():
            self.assertIn(line + "\n", done.stdout)
        self.assertTrue(self.ask("verify", journal)["ok"])
        refused = self.ask("mark", journal, "--session", "2026-03-14", "--at", "0:00:31", "--note", "late", expect=3)
        self.assertEqual(refused["error"]["code"], "conflict")


if __name__ == "__main__":
    contract_test.JIGTIME = sys.argv.pop(1)
    README = Path(sys.argv.pop(1))
    unittest.main(verbosity=2)
