"""The record on the command line: undo, spans, what waits, inspections, hours without footage, seals, amendments, signatures, copies.

The chain's digests and the signature are checked with Python's hashlib and, where it is there, the cryptography package; the journal's rows
with Python's sqlite3. Run: record_test.py JIGTIME
"""
import hashlib
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

JIGTIME = ""


class Record(unittest.TestCase):
    def setUp(self):
        self.folder = Path(tempfile.mkdtemp(prefix="jigtime-record-"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.journal = str(self.folder / "a.jigtime")
        self.run_ok("new", self.journal, "--build", "Marten", "--zone", "Europe/Lisbon")

    def run_it(self, *arguments, env=None):
        done = subprocess.run([JIGTIME, *arguments, "--json"], capture_output=True, text=True,
                              env={**os.environ, "LOGNAME": "mara", **(env or {})})
        return done.returncode, json.loads(done.stdout)

    def run_ok(self, *arguments, env=None):
        status, said = self.run_it(*arguments, env=env)
        self.assertEqual(status, 0, (arguments, said))
        return said

    def worked(self, hours="1:00:00", task="Rivet", day="2026-03-14"):
        return self.run_ok("worked", self.journal, "--session", day, "--hours", hours, "--task", task, "--person", "Mara")

    def test_undo_and_redo_are_lines_of_a_history_that_names_who(self):
        self.worked()
        self.assertEqual(self.run_ok("undo", self.journal)["deed"], "undo")
        self.assertEqual(self.run_it("show", self.journal, "--session", "2026-03-14")[0], 3)
        self.run_ok("redo", self.journal)
        changes = self.run_ok("history", self.journal)["changes"]
        self.assertEqual([change["deed"] for change in changes], ["redo", "undo", "edit"])
        self.assertEqual({change["who"] for change in changes}, {"mara"})
        self.assertFalse(changes[2]["undone"])
        self.assertEqual(self.run_it("redo", self.journal)[0], 3)

    def test_spans_are_split_joined_copied_trimmed_changed_and_deleted(self):
        first = self.worked()["span"]
        day = ("--session", "2026-03-14")
        second = self.run_ok("span", self.journal, "split", *day, "--id", str(first), "--at", "0:20:00")["span"]
        self.run_ok("span", self.journal, "trim", *day, "--id", str(second), "--to", "0:50:00")
        self.run_ok("span", self.journal, "change", *day, "--id", str(second), "--task", "Deburr", "--person", "Bo")
        copy = self.run_ok("span", self.journal, "copy", *day, "--id", str(second))["span"]
        self.run_ok("span", self.journal, "join", *day, "--id", str(second), "--with", str(copy))
        spans = self.run_ok("show", self.journal, *day)["spans"]
        self.assertEqual([(s["task"], s["begin_s"], s["end_s"], s["people"]) for s in spans],
                         [("Rivet", 0, 1200, ["Mara"]), ("Deburr", 1200, 4800, ["Bo"])])
        self.run_ok("span", self.journal, "delete", *day, "--id", str(second))
        self.assertEqual(self.run_it("span", self.journal, "delete", *day, "--id", str(second))[0], 3)
        self.assertEqual(self.run_it("span", self.journal, "split", *day, "--id", str(first), "--at", "9:00:00")[0], 2)

    def test_what_waits_is_listed_until_it_is_closed(self):
        span = self.worked()["span"]
        item = self.run_ok("item", self.journal, "open", "--kind", "part", "--words", "hinge pin", "--session", "2026-03-14", "--at", "0:10:00")["item"]
        listed = self.run_ok("item", self.journal, "list")["items"]
        self.assertEqual((listed[0]["words"], listed[0]["at_s"], listed[0]["opened_on"]), ("hinge pin", 600, "2026-03-14"))
        self.assertEqual(self.run_ok("find", self.journal, "hinge")["hits"][0]["kind"], "item")
        self.run_ok("item", self.journal, "close", "--id", str(item), "--session", "2026-03-14", "--span", str(span))
        self.assertEqual(self.run_ok("item", self.journal, "list")["items"], [])
        self.assertEqual(self.run_ok("item", self.journal, "list", "--all")["items"][0]["closed_by_span"], span)
        self.assertEqual(self.run_it("item", self.journal, "open", "--kind", "wish", "--words", "x")[0], 2)

    def test_an_inspection_is_listed_with_its_findings_and_their_clearing(self):
        number = self.run_ok("inspection", self.journal, "add", "--date", "2026-03-20", "--person", "R. Vane", "--licence", "4711", "--looked-at",
                             "Elevator", "--findings", "one low head")["inspection"]
        self.run_ok("inspection", self.journal, "clear", "--id", str(number), "--on", "2026-03-22")
        listed = self.run_ok("inspection", self.journal, "list")["inspections"]
        self.assertEqual((listed[0]["licence"], listed[0]["cleared_on"]), ("4711", "2026-03-22"))
        self.assertEqual(self.run_it("inspection", self.journal, "clear", "--id", str(number), "--on", "2026-03-01")[0], 2)

    def test_names_that_are_one_count_as_one(self):
        self.worked(task="Rivet")
        self.worked(task="Rivet skin")
        self.run_ok("task", self.journal, "merge", "Rivet", "--into", "Rivet skin")
        rows = self.run_ok("hours", self.journal, "--by", "task")["rows"]
        self.assertEqual([(row["task"], row["seconds"]) for row in rows], [("Rivet skin", 7200)])
        self.assertEqual(self.run_ok("hours", self.journal, "--by", "month")["rows"][0]["month"], "2026-03")
        self.assertEqual(self.run_it("task", self.journal, "rename", "None", "--to", "Other")[0], 3)

    def test_a_sealed_day_is_amended_signed_renamed_and_verified(self):
        self.worked()
        sealed = self.run_ok("seal", self.journal, "--session", "2026-03-14")
        self.assertEqual(self.run_it("undo", self.journal)[0], 3)
        amended = self.run_ok("amend", self.journal, "--session", "2026-03-14", "--before", "1 h", "--after", "2 h", "--reason", "misread")
        self.assertEqual(amended["previous"], sealed["digest"])
        with sqlite3.connect(self.journal) as rows:
            text, = rows.execute("SELECT text FROM amendment").fetchone()
        self.assertEqual(hashlib.sha256((sealed["digest"] + "\n" + text).encode()).hexdigest(), amended["digest"])
        key = str(self.folder / "mara.key")
        public = self.run_ok("key", key, "new")["public_key"]
        signature = self.run_ok("sign", self.journal, "--entry", "2", "--key", key)["signature"]
        self.check_signature(public, signature, amended["digest"])
        self.run_ok("task", self.journal, "rename", "Rivet", "--to", "Riveting")
        found = self.run_ok("verify", self.journal)
        self.assertEqual((found["ok"], found["faults"], len(found["renamed"])), (True, [], 1))
        self.assertEqual(found["signed"], [{"entry": 2, "public_key": public}])

    def test_the_sealing_of_one_day_does_not_stop_undo_in_another(self):
        self.worked(day="2026-03-14")
        self.worked(day="2026-03-15", hours="2:00:00")
        self.run_ok("seal", self.journal, "--session", "2026-03-14")
        undone = self.run_ok("undo", self.journal)
        self.assertEqual((undone["deed"], undone["passed_over"]), ("undo", 1))
        self.assertEqual(self.run_ok("hours", self.journal)["person_seconds"], 3600)
        self.assertEqual(self.run_it("undo", self.journal)[0], 3)
        self.run_ok("redo", self.journal)
        self.assertEqual(self.run_ok("hours", self.journal)["person_seconds"], 3 * 3600)
        self.assertTrue(self.run_ok("verify", self.journal)["ok"])

    def test_a_planned_line_keeps_its_grip_and_warns_by_itself(self):
        self.run_ok("task", self.journal, "add", "Rivet", "--plan", "MS20426AD3-5=72@0.064", "--plan", "MS20470AD4-5=4")
        told = self.run_ok("rivets", self.journal)
        self.assertEqual([row["grip_in"] for row in told["rows"]], [0.064, None])
        self.assertEqual(len(told["warnings"]), 1)
        self.assertIn("MS20426AD3-5 is not the length that any published rule gives for a grip of 0.064 in", told["warnings"][0])
        self.assertEqual(self.run_ok("rivets", self.journal, "--grip", "Rivet=0.125")["rows"][0]["grip_in"], 0.064)
        self.assertEqual(self.run_it("task", self.journal, "add", "Rivet", "--plan", "MS20426AD3-5=72@thick")[0], 2)

    def test_a_regime_of_ones_own_goes_with_the_journal_to_another_computer(self):
        text = self.folder / "island.txt"
        text.write_text("jigtime regime 1\nname: island\ntitle: An island\nshare: none\nfinding: Theirs. | A | seen\n"
                        "tasks: Tasks count. | A | seen\nrecord: Who. | A | seen\n")
        here = {"XDG_CONFIG_HOME": str(self.folder / "here")}
        there = {"XDG_CONFIG_HOME": str(self.folder / "there")}
        self.assertEqual(self.run_ok("regime", self.journal, "--import", str(text), env=here)["title"], "An island")
        self.assertEqual(self.run_ok("regime", self.journal, env=there)["title"], "An island")

    def test_what_is_said_about_the_build_and_about_a_day_is_changed_where_it_is_given(self):
        self.worked(hours="1:07:00")
        told = self.run_ok("build", self.journal, "--registration", "CS-XMT", "--rounding", "0.1 h")
        self.assertEqual((told["build"], told["registration"], told["zone"], told["rounding"]), ("Marten", "CS-XMT", "Europe/Lisbon", "0.1 h"))
        self.assertEqual(self.run_it("build", self.journal, "--rounding", "day")[0], 2)
        self.assertEqual(self.run_it("build", self.journal, "--zone", "Mars/Olympus")[0], 2)
        day = ("--session", "2026-03-14")
        self.run_ok("session", self.journal, *day, "--note", "cold", "--place", "Hangar 2")
        told = self.run_ok("session", self.journal, *day, "--began", "9:00:00")
        self.assertEqual((told["note"], told["place"], told["zero"]), ("cold", "Hangar 2", "2026-03-14T09:00:00Z"))
        self.assertEqual(self.run_it("session", self.journal, *day, "--began", "24:00:00")[0], 2)
        self.assertEqual(self.run_it("session", self.journal, "--session", "2026-03-15", "--note", "x")[0], 3)
        self.run_ok("undo", self.journal)
        self.assertIsNone(self.run_ok("session", self.journal, *day)["zero"])
        changes = len(self.run_ok("history", self.journal)["changes"])
        self.run_ok("session", self.journal, *day, "--note", "cold")
        self.assertEqual(len(self.run_ok("history", self.journal)["changes"]), changes)
        self.run_ok("seal", self.journal, *day)
        self.assertEqual(self.run_it("session", self.journal, *day, "--note", "warm")[0], 3)

    def test_a_session_begins_where_the_clocks_of_its_place_say_so_on_the_days_they_are_changed(self):
        # Europe/Lisbon: 2026-03-29 01:00 becomes 02:00 (UTC+1), 2026-10-25 02:00 becomes 01:00 (IANA time zone database).
        for day, began, zero in (("2026-03-29", "0:30:00", "2026-03-29T00:30:00Z"), ("2026-03-29", "3:00:00", "2026-03-29T02:00:00Z"),
                                 ("2026-10-25", "0:30:00", "2026-10-24T23:30:00Z"), ("2026-10-25", "3:00:00", "2026-10-25T03:00:00Z")):
            with self.subTest(day + began):
                self.worked(day=day)
                self.assertEqual(self.run_ok("session", self.journal, "--session", day, "--began", began)["zero"], zero)
        for began in ("1:00:00", "1:30:00", "1:59:59.999"):
            status, said = self.run_it("session", self.journal, "--session", "2026-03-29", "--began", began)
            self.assertEqual(status, 2)
            self.assertIn("set forward", said["error"]["message"])
        self.assertEqual(self.run_ok("session", self.journal, "--session", "2026-10-25", "--began", "1:30:00")["zero"], "2026-10-25T00:30:00Z")

    def test_a_mark_is_moved_and_said_otherwise(self):
        self.worked()
        day = ("--session", "2026-03-14")
        mark = str(self.run_ok("mark", self.journal, *day, "--at", "0:10:00", "--note", "smoked")["mark"])
        self.run_ok("mark", self.journal, *day, "--id", mark, "--at", "0:11:00")
        self.run_ok("mark", self.journal, *day, "--id", mark, "--note", "low head")
        (told,) = self.run_ok("show", self.journal, *day)["marks"]
        self.assertEqual((told["at_s"], told["note"]), (660, "low head"))
        self.assertEqual(self.run_it("mark", self.journal, *day, "--id", "99", "--note", "x")[0], 3)
        self.assertEqual(self.run_it("mark", self.journal, *day, "--at", "0:12:00")[0], 2)
        self.run_ok("undo", self.journal)
        self.assertEqual(self.run_ok("show", self.journal, *day)["marks"][0]["note"], "smoked")

    def test_a_mark_is_copied_to_another_moment(self):
        self.worked()
        day = ("--session", "2026-03-14")
        mark = self.run_ok("mark", self.journal, *day, "--at", "0:10:00", "--note", "smoked")["mark"]
        told = self.run_ok("mark", self.journal, *day, "--copy", str(mark), "--at", "0:20:00")
        self.assertEqual((told["copy_of"], told["at_s"]), (mark, 1200))
        self.assertEqual([(m["at_s"], m["note"]) for m in self.run_ok("show", self.journal, *day)["marks"]], [(600, "smoked"), (1200, "smoked")])
        for wrong in (("--at", "0:10:00"), (), ("--at", "0:30:00", "--note", "x"), ("--at", "0:30:00", "--id", str(mark)), ("--at", "soon")):
            with self.subTest(wrong):
                self.assertEqual(self.run_it("mark", self.journal, *day, "--copy", str(mark), *wrong)[0], 2)
        self.assertEqual(self.run_it("mark", self.journal, *day, "--copy", "99", "--at", "0:30:00")[0], 3)
        self.run_ok("undo", self.journal)
        self.assertEqual(len(self.run_ok("show", self.journal, *day)["marks"]), 1)

    def test_roles_and_sheets_are_changed_and_slips_are_refused(self):
        self.worked()
        self.run_ok("person", self.journal, "change", "Mara", "--role", "helper")
        self.assertEqual(self.run_ok("hours", self.journal, "--by", "role")["rows"][0]["role"], "helper")
        self.assertEqual(self.run_it("person", self.journal, "change", "Mara")[0], 2)
        self.assertEqual(self.run_it("person", self.journal, "change", "Nobody", "--role", "helper")[0], 3)
        self.run_ok("assembly", self.journal, "add", "Tail / Elevator", "--sheet", "9")
        self.run_ok("assembly", self.journal, "change", "Tail", "--sheet", "2")
        sheets = {row["assembly"]: row["sheet"] for row in self.run_ok("assembly", self.journal, "list")["assemblies"]}
        self.assertEqual(sheets, {"Tail": "2", "Tail / Elevator": "9"})
        self.assertEqual(self.run_it("assembly", self.journal, "change", "Tail")[0], 2)
        self.assertEqual(self.run_it("worked", self.journal, "--session", "2026-03-14", "--hours", "800000:00:00", "--task", "Rivet")[0], 2)
        self.assertEqual(self.run_it("history", self.journal, "--most", "0")[0], 2)

    def test_a_new_name_that_is_almost_an_old_one_is_taken_and_told(self):
        self.worked()
        done = subprocess.run([JIGTIME, "worked", self.journal, "--session", "2026-03-14", "--hours", "1:00:00", "--task", "rivet",
                               "--person", "Bo"], capture_output=True, text=True)
        self.assertIn('There is "Rivet" already', done.stderr)
        self.assertIn('merge "rivet" --into "Rivet"', done.stderr)
        self.assertNotIn("Mara", done.stderr)

    def check_signature(self, public, signature, digest):
        try:
            from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
        except ImportError:
            return
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(public)).verify(bytes.fromhex(signature), b"jigtime entry " + digest.encode())

    def test_one_program_reads_and_copies_while_another_writes(self):
        self.worked()
        writer = sqlite3.connect(self.journal, isolation_level=None)
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("DELETE FROM span_person")
        self.assertEqual(self.run_ok("hours", self.journal)["person_seconds"], 3600)
        copy = str(self.folder / "copy.jigtime")
        self.run_ok("backup", self.journal, "--to", copy)
        status, said = self.run_it("undo", self.journal)
        self.assertEqual((status, said["error"]["code"]), (3, "busy"))
        writer.execute("COMMIT")
        self.assertEqual(self.run_ok("hours", self.journal)["person_seconds"], 0)
        self.assertEqual(self.run_ok("hours", copy)["person_seconds"], 3600)
        self.assertEqual(self.run_it("backup", self.journal, "--to", copy)[0], 2)


if __name__ == "__main__":
    JIGTIME = sys.argv.pop(1)
    unittest.main(verbosity=2)
