"""What leaves the journal, on the command line: the export's folder, the running table of hours, the log book.

Digests are checked with Python's hashlib and with sha256sum, tables with Python's csv, the book with qpdf and pdftotext.
Run: export_test.py JIGTIME
"""
import csv
import fcntl
import hashlib
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import unittest
from pathlib import Path

JIGTIME = ""
DAY = "2026-03-14"


class Desk(unittest.TestCase):
    def setUp(self):
        self.folder = Path(tempfile.mkdtemp(prefix="jigtime-export-"))
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.journal = self.folder / "a.jigtime"
        self.run_ok("new", self.journal, "--build", "Marten =1+1", "--zone", "Europe/Lisbon", "--place", "Vale <Manso>")

    def run_it(self, *arguments):
        done = subprocess.run([JIGTIME, *map(str, arguments), "--json"], capture_output=True, text=True)
        return done.returncode, json.loads(done.stdout)

    def run_ok(self, *arguments):
        status, said = self.run_it(*arguments)
        self.assertEqual(status, 0, (arguments, said))
        return said

    def refused(self, code, *arguments):
        status, said = self.run_it(*arguments)
        self.assertEqual((status, said["error"]["code"]), (2 if code == "invalid" else 3, code), said)
        return said["error"]["message"]

    def worked(self, day=DAY, task="Rivet, \"left\"", person="Mara", journal=None):
        return self.run_ok("worked", journal or self.journal, "--session", day, "--hours", "1:30:00", "--task", task, "--person", person)


class Export(Desk):
    def test_the_table_of_spans_reads_back_as_it_was(self):
        tagged = self.folder / "tags.csv"
        people = ['Bo; the elder', 'Ann | Lee', '"Shorty" Miller', "Mara, & Joost", "'=Ann", "-Max"]
        with tagged.open("w", newline="", encoding="utf-8") as file:
            table = csv.writer(file)
            table.writerow(["from", "to", "kind", "task", "assembly", "people", "fasteners", "note"])
            in_one_cell = "\n".join('"' + name.replace('"', '""') + '"' for name in people)
            table.writerow(["0:00:10", "0:00:20.250", "work", "''=Rivet, \"left\"", "'+Tail / @Rib", in_one_cell, "MS20470AD4-5=12-1:squeezed\nMS20426AD3-3.5=4", "'-two\nlines"])
            table.writerow(["0:00:12", "0:00:13", "break", "", "", '"Bo; the elder"', "", "'=tea"])
        self.run_ok("worked", self.journal, "--session", DAY, "--from", "0:00:00", "--hours", "0:00:01", "--task", "Sweep", "--person", "Mara")
        self.run_ok("tags", self.journal, "--session", DAY, "--read", tagged)
        shown = self.run_ok("person", self.journal, "list")["people"]
        self.assertEqual({person["person"] for person in shown}, {"Mara", *people})
        self.export()
        first = (self.folder / "out" / "spans.csv").read_bytes()
        other = self.folder / "b.jigtime"
        self.run_ok("new", other, "--build", "Marten =1+1", "--zone", "Europe/Lisbon")
        self.run_ok("worked", other, "--session", DAY, "--from", "0:00:30", "--hours", "0:00:01", "--task", "To be undone", "--person", "Mara")
        self.run_ok("tags", other, "--session", DAY, "--read", self.folder / "out" / "spans.csv")
        self.run_ok("export", other, "--session", DAY, "--to", self.folder / "back")
        again = (self.folder / "back" / "spans.csv").read_bytes()
        self.assertEqual([line for line in again.split(b"\r\n") if b"To be undone" not in line], first.split(b"\r\n"))

    def export(self, out=None, day=DAY):
        return self.run_ok("export", self.journal, "--session", day, "--to", out or self.folder / "out")

    def test_the_folder_holds_every_format_and_sha256sum_knows_them_all(self):
        self.worked()
        said = self.export()
        out = self.folder / "out"
        self.assertEqual({Path(file).name for file in said["files"]},
                         {"about.txt", "timeline.html", "timeline.pdf", "timeline.svg", "hours.csv", "spans.csv", "fasteners.csv", "session.json",
                          "session.schema.json", "timeline.otio", "session.ics", "jigtime-export.sha256"})
        self.assertEqual({file.name for file in out.iterdir()}, {Path(file).name for file in said["files"]})
        done = subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "jigtime-export.sha256"], cwd=out, capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))
        self.assertEqual(subprocess.run(["qpdf", "--check", out / "timeline.pdf"], capture_output=True).returncode, 0)

    def test_what_somebody_changed_or_brought_is_never_replaced(self):
        self.worked()
        self.export()
        self.export()
        page = self.folder / "out" / "timeline.html"
        page.write_text(page.read_text() + "<!-- my note -->")
        before = {file: file.read_bytes() for file in (self.folder / "out").iterdir()}
        self.assertIn("changed since", self.refused("conflict", "export", self.journal, "--session", DAY, "--to", self.folder / "out"))
        self.assertEqual({file: file.read_bytes() for file in (self.folder / "out").iterdir()}, before)
        other = self.folder / "other"
        other.mkdir()
        (other / "hours.csv").write_text("mine")
        self.refused("conflict", "export", self.journal, "--session", DAY, "--to", other)
        self.assertEqual([(file.name, file.read_text()) for file in other.iterdir()], [("hours.csv", "mine")])
        self.refused("denied", "export", self.journal, "--session", DAY, "--to", other / "hours.csv")

    def test_a_folder_is_one_sessions(self):
        self.worked()
        self.worked("2026-03-15")
        self.export()
        self.assertIn(DAY, self.refused("conflict", "export", self.journal, "--session", "2026-03-15", "--to", self.folder / "out"))

    def test_nothing_is_written_through_links(self):
        self.worked()
        out, elsewhere = self.folder / "out", self.folder / "elsewhere"
        out.mkdir()
        elsewhere.mkdir()
        (elsewhere / "victim").write_text("mine")
        (out / "session.json").symlink_to(elsewhere / "victim")
        self.refused("conflict", "export", self.journal, "--session", DAY, "--to", out)
        self.assertEqual((elsewhere / "victim").read_text(), "mine")
        self.assertEqual([file.name for file in elsewhere.iterdir()], ["victim"])

    def test_a_list_that_names_files_outside_takes_none_away(self):
        self.worked()
        self.export()
        victim = self.folder / "victim"
        victim.write_text("mine")
        digest = hashlib.sha256(b"mine").hexdigest()
        listing = self.folder / "out" / "jigtime-export.sha256"
        listing.write_text(listing.read_text() + f"{digest}  ../victim\n{digest}  {victim}\n")
        self.export()
        self.assertEqual(victim.read_text(), "mine")

    def test_files_of_an_earlier_export_go_when_they_are_no_longer_part_of_it(self):
        self.worked()
        self.export()
        out = self.folder / "out"
        listing = out / "jigtime-export.sha256"
        (out / "chapters").mkdir()
        for name in ["old.vtt", "edited.vtt"]:
            (out / "chapters" / name).write_text("old")
            listing.write_text(listing.read_text() + f"{hashlib.sha256(b'old').hexdigest()}  chapters/{name}\n")
        (out / "chapters" / "edited.vtt").write_text("edited")
        notes = self.export()["notes"]
        self.assertEqual([file.name for file in (out / "chapters").iterdir()], ["edited.vtt"])
        self.assertIn("edited.vtt", "".join(notes))

    def test_two_exports_at_once_do_not_write_into_each_other(self):
        self.worked()
        self.export()
        out = self.folder / "out"
        before = {file: file.read_bytes() for file in out.iterdir()}
        held = os.open(out, os.O_RDONLY | os.O_DIRECTORY)
        fcntl.flock(held, fcntl.LOCK_EX)
        self.assertIn("Another export", self.refused("busy", "export", self.journal, "--session", DAY, "--to", out))
        self.assertEqual({file: file.read_bytes() for file in out.iterdir()}, before)
        os.close(held)
        several = [subprocess.Popen([JIGTIME, "export", self.journal, "--session", DAY, "--to", out], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
                   for _ in range(4)]
        self.assertLessEqual({one.wait() for one in several}, {0, 3})
        done = subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "jigtime-export.sha256"], cwd=out, capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))
        self.export()

    def test_an_export_that_was_killed_leaves_nothing_that_stays(self):
        self.worked()
        out = self.folder / "out"
        for wait in [0.02, 0.05, 0.1, 0.15, 0.2, 0.3]:
            one = subprocess.Popen([JIGTIME, "export", self.journal, "--session", DAY, "--to", out], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            time.sleep(wait)
            one.kill()
            one.wait()
        self.export()
        (out / "timeline.svg.part4711-2").write_text("half")
        (out / "mine.part4711-2").write_text("mine")
        self.export()
        self.assertEqual([file.name for file in out.iterdir() if ".part" in file.name], ["mine.part4711-2"])
        done = subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "jigtime-export.sha256"], cwd=out, capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))

    def test_where_there_is_no_room_nothing_is_changed_and_that_is_said(self):
        self.worked()
        self.export()
        out = self.folder / "out"
        before = {file.name: file.read_bytes() for file in out.iterdir()}
        self.run_ok("mark", self.journal, "--session", DAY, "--at", "0:10:00", "--note", "new")
        # A limit on the size of a file stands in for the full disk: the drawings do not fit, the tables do.
        done = subprocess.run([JIGTIME, "export", self.journal, "--session", DAY, "--to", out, "--json"], capture_output=True, text=True,
                              restore_signals=False, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (40000, 40000)))
        self.assertEqual((done.returncode, json.loads(done.stdout)["error"]["code"]), (3, "no space"), done.stdout)
        self.assertEqual({file.name: file.read_bytes() for file in out.iterdir()}, before)

    def test_the_sealed_entrys_digest_follows_from_what_session_json_holds(self):
        # hashlib: the digest is over the one before, a line feed and the text.
        self.worked()
        digest = self.run_ok("seal", self.journal, "--session", DAY)["digest"]
        self.export()
        entry = json.loads((self.folder / "out" / "session.json").read_text(encoding="utf-8"))["entry"]
        self.assertEqual(entry["digest"], digest)
        self.assertEqual(hashlib.sha256((entry["previous"] + "\n" + entry["text"]).encode()).hexdigest(), digest)

    def test_exported_spans_are_read_back_into_another_journal_with_the_same_hours(self):
        self.worked()
        self.worked(task="Deburr", person="Bo")
        self.export()
        second = self.folder / "b.jigtime"
        self.run_ok("new", second, "--build", "Copy")
        self.worked(task="Placeholder", person="Nobody", journal=second)
        span = self.run_ok("show", second, "--session", DAY)["spans"][0]
        self.run_ok("span", second, "delete", "--session", DAY, "--id", span["id"])
        self.run_ok("tags", second, "--session", DAY, "--read", self.folder / "out" / "spans.csv")
        self.assertEqual(self.run_ok("hours", second)["person_seconds"], self.run_ok("hours", self.journal)["person_seconds"])


class Hours(Desk):
    def rows(self, file):
        with open(file, newline="", encoding="utf-8") as table:
            return list(csv.reader(table, strict=True))

    def test_csv_on_stdout_is_the_table_alone(self):
        self.worked()
        done = subprocess.run([JIGTIME, "hours", self.journal, "--csv"], capture_output=True, text=True, check=True)
        rows = list(csv.reader(done.stdout.splitlines(), strict=True))
        self.assertEqual(rows[0], ["date", "task", "assembly", "person", "role", "seconds", "hours"])
        self.assertEqual(rows[1][:2] + rows[1][3:6], [DAY, "Rivet, \"left\"", "Mara", "builder", "5400"])
        self.assertEqual(self.run_ok("hours", self.journal, "--csv", "--from", "2026-03-15")["csv"].count("\n"), 1)

    def test_only_new_sealed_sessions_are_added_however_often_it_is_asked(self):
        table = self.folder / "running.csv"
        self.worked()
        said = self.run_ok("hours", self.journal, "--append", table)
        self.assertEqual((said["sessions"], said["waiting"]), (0, 1))
        self.assertEqual(len(self.rows(table)), 1)
        self.run_ok("seal", self.journal, "--session", DAY)
        self.assertEqual(self.run_ok("hours", self.journal, "--append", table)["rows"], 1)
        once = table.read_bytes()
        said = self.run_ok("hours", self.journal, "--append", table)
        self.assertEqual((said["sessions"], said["known_already"]), (0, 1))
        self.assertEqual(table.read_bytes(), once)
        self.worked("2026-03-16", person="Bo")
        self.run_ok("seal", self.journal, "--session", "2026-03-16")
        # As a spreadsheet may have saved it meanwhile: other line ends, none at the end.
        table.write_bytes(once.replace(b"\r\n", b"\n").rstrip(b"\n"))
        self.run_ok("hours", self.journal, "--append", table)
        rows = self.rows(table)
        self.assertEqual([row[0] for row in rows], ["entry", "1", "2"])
        self.assertEqual(rows[2][2:8], ["2026-03-16", "Rivet, \"left\"", "", "Bo", "builder", "5400"])

    def test_a_table_that_lost_rows_is_not_mended_behind_the_builders_back(self):
        table = self.folder / "running.csv"
        self.worked()
        self.worked(person="Bo")
        self.run_ok("seal", self.journal, "--session", DAY)
        self.assertEqual(self.run_ok("hours", self.journal, "--append", table)["rows"], 2)
        whole = table.read_bytes()
        cut = b"".join(whole.splitlines(keepends=True)[:-1])
        table.write_bytes(cut)
        status, said = self.run_it("hours", self.journal, "--append", table)
        self.assertEqual((status, said["incomplete"], said["rows"], table.read_bytes()), (1, [1], 0, cut))
        # Torn in the middle of a field, with columns moved, with other separators: no table of ours.
        header, rest = whole.split(b"\r\n", 1)
        for torn in [whole[:whole.rindex(b'""')], b",".join(reversed(header.split(b","))) + b"\r\n" + rest, whole.replace(b"5400", b"54O0")]:
            table.write_bytes(torn)
            status, said = self.run_it("hours", self.journal, "--append", table)
            self.assertEqual(table.read_bytes(), torn)
            self.assertNotEqual(status, 0, torn)
        # Rows that stand there twice add up to other hours than the journal's.
        table.write_bytes(whole + rest)
        status, said = self.run_it("hours", self.journal, "--append", table)
        self.assertEqual((status, said["differing"], table.read_bytes()), (1, [1], whole + rest))
        table.write_bytes(whole)
        link = self.folder / "link.csv"
        link.symlink_to(table)
        self.worked("2026-03-16")
        self.run_ok("seal", self.journal, "--session", "2026-03-16")
        self.run_ok("hours", self.journal, "--append", link)
        self.assertTrue(link.is_symlink())
        self.assertEqual(len(self.rows(table)), 4)

    def test_another_table_and_another_journals_table_are_left_alone(self):
        self.worked()
        self.run_ok("seal", self.journal, "--session", DAY)
        table = self.folder / "mine.csv"
        table.write_text("date,hours\n2026-03-14,2\n")
        self.refused("conflict", "hours", self.journal, "--append", table)
        self.assertEqual(table.read_text(), "date,hours\n2026-03-14,2\n")
        running = self.folder / "running.csv"
        self.run_ok("hours", self.journal, "--append", running)
        other = self.folder / "b.jigtime"
        self.run_ok("new", other, "--build", "Other")
        self.worked(journal=other)
        self.run_ok("seal", other, "--session", DAY)
        before = running.read_bytes()
        self.refused("conflict", "hours", other, "--append", running)
        self.assertEqual(running.read_bytes(), before)
        running.write_bytes(b'entry,digest,"date')
        self.assertEqual(self.run_it("hours", self.journal, "--append", running)[0], 3)
        self.assertEqual(self.run_it("hours", self.journal, "--append", running, "--csv")[0], 2)


    def test_a_table_that_is_locked_or_no_file_is_left_alone_at_once(self):
        self.worked()
        self.run_ok("seal", self.journal, "--session", DAY)
        table = self.folder / "running.csv"
        self.run_ok("hours", self.journal, "--append", table)
        whole = table.read_bytes()
        self.worked("2026-03-16")
        self.run_ok("seal", self.journal, "--session", "2026-03-16")
        table.chmod(0o444)
        self.refused("denied", "hours", self.journal, "--append", table)
        self.assertEqual(table.read_bytes(), whole)
        link = self.folder / "nowhere.csv"
        link.symlink_to(self.folder / "stick" / "running.csv")
        self.refused("conflict", "hours", self.journal, "--append", link)
        self.assertTrue(link.is_symlink())
        pipe = self.folder / "pipe"
        os.mkfifo(pipe)
        for other in (pipe, "/dev/zero", self.folder):
            self.refused("not found", "hours", self.journal, "--append", other)


class Book(Desk):
    def test_the_book_is_a_sound_pdf_and_is_renewed_only_while_it_is_ours(self):
        self.worked()
        self.run_ok("seal", self.journal, "--session", DAY)
        self.run_ok("amend", self.journal, "--session", DAY, "--before", "1.5 h", "--after", "1.4 h", "--reason", "tea was longer")
        book = self.folder / "book.pdf"
        said = self.run_ok("book", self.journal, "--to", book)
        self.assertEqual((said["sessions"], said["sealed"], said["faults"]), (1, 1, []))
        done = subprocess.run(["qpdf", "--check", book], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
        text = " ".join(subprocess.run(["pdftotext", "-raw", book, "-"], capture_output=True, text=True, check=True).stdout.split())
        for words in ["Marten =1+1", "Vale <Manso>", "Mara (builder) 1:30", "tea was longer", "everything fitted", "Findings are the authority's", "Page 2 of"]:
            self.assertIn(words, text)
        self.run_ok("book", self.journal, "--to", book)
        with open(book, "ab") as file:
            file.write(b"%a note of mine\n")
        changed = book.read_bytes()
        self.refused("conflict", "book", self.journal, "--to", book)
        self.assertEqual(book.read_bytes(), changed)
        self.assertEqual([file.name for file in self.folder.iterdir() if ".part" in file.name], [])

    def test_the_book_as_html_keeps_to_its_days_and_says_what_is_not_sealed(self):
        self.worked()
        self.worked("2026-03-20")
        self.run_ok("seal", self.journal, "--session", DAY)
        page = self.folder / "book.html"
        self.run_ok("book", self.journal, "--to", page, "--order", "assembly")
        subprocess.run(["xmllint", "--noout", "--nonet", page], check=True)
        self.assertIn("1 session in this book is not sealed", page.read_text(encoding="utf-8"))
        self.assertIn("20 March 2026", page.read_text(encoding="utf-8"))
        self.run_ok("book", self.journal, "--to", page, "--until", DAY)
        self.assertNotIn("20 March 2026", page.read_text(encoding="utf-8"))
        self.run_ok("book", self.journal, "--to", page, "--from", "2030-01-01")
        self.assertIn("There is no session in these days.", page.read_text(encoding="utf-8"))

    def test_photos_stand_in_the_book_and_those_that_cannot_be_shown_are_named(self):
        self.worked()
        card = self.folder / "card"
        card.mkdir()
        make = ["ffmpeg", "-v", "error", "-f", "lavfi", "-i", "testsrc2=size=2400x1800,noise=alls=20", "-q:v", "1", "-frames:v", "1"]
        for name in ["20260314_093000.jpg", "20260314_093100.png", "20260314_093200.jpg", "20260314_093300.jpg", "20260314_093400.jpg"]:
            subprocess.run([*make, card / name], check=True)
            with open(card / name, "ab") as file:
                file.write(name.encode())  # each its own digest
        self.run_it("photos", self.journal, "--session", DAY, "--camera", f"phone={card}")
        damaged = (card / "20260314_093200.jpg").read_bytes()
        (card / "20260314_093200.jpg").write_bytes(damaged + b"x")
        (card / "20260314_093300.jpg").unlink()
        # As long and with the same ends, so that only decoding finds it out.
        hurt = card / "20260314_093400.jpg"
        raw = hurt.read_bytes()
        self.assertGreater(len(raw), 140000)
        hurt.write_bytes(raw[:70000] + b"\xff\xd8" * 500 + raw[71000:])
        self.assertEqual(len(self.run_ok("photos", self.journal, "--session", DAY)["photos"]), 5)
        env = {**os.environ, "XDG_CACHE_HOME": str(self.folder / "cache")}
        for name in ["book.pdf", "book.html", "again.pdf"]:
            subprocess.run([JIGTIME, "book", self.journal, "--to", self.folder / name], check=True, capture_output=True, env=env)
        text = " ".join(subprocess.run(["pdftotext", "-raw", self.folder / "book.pdf", "-"], capture_output=True, text=True, check=True).stdout.split())
        page = (self.folder / "book.html").read_text(encoding="utf-8")
        for name in ["20260314_093000.jpg", "20260314_093100.png", "20260314_093200.jpg", "20260314_093300.jpg", "20260314_093400.jpg"]:
            self.assertEqual((text.count(name), page.count(name) > 0), (1, True), name)
        for words in ["changed since it was added", "not where the journal expects it", "cannot be read, and it is not shown"]:
            self.assertIn(words, text)
            self.assertIn(words, page.replace("&#39;", "'"))
        listed = subprocess.run(["pdfimages", "-list", self.folder / "book.pdf"], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
        self.assertEqual(sorted(line.split()[3:5] for line in listed), [["640", "480"], ["640", "480"]])
        self.assertEqual(page.count("<img"), 2)
        self.assertEqual(len(list((self.folder / "cache" / "jigtime").glob("*.photo"))), 2)
        self.assertEqual(raw[:70000] + b"\xff\xd8" * 500 + raw[71000:], hurt.read_bytes())

    def test_what_cannot_be_a_book_is_told(self):
        self.assertIn(".pdf", self.refused("invalid", "book", self.journal, "--to", self.folder / "book.doc"))
        self.refused("invalid", "book", self.journal, "--to", self.folder / "b.pdf", "--from", "2026-02-01", "--until", "2026-01-01")
        self.refused("not found", "book", self.journal, "--to", self.folder / "none" / "b.pdf")
        self.assertEqual(self.run_it("book", self.journal, "--to", self.folder / "b.pdf", "--order", "colour")[0], 2)
        mine = self.folder / "mine.pdf"
        mine.write_bytes(b"%PDF-1.4 mine")
        self.refused("conflict", "book", self.journal, "--to", mine)
        self.assertEqual(mine.read_bytes(), b"%PDF-1.4 mine")


if __name__ == "__main__":
    JIGTIME = os.path.abspath(sys.argv[1])
    unittest.main(argv=[sys.argv[0], *sys.argv[2:]])
