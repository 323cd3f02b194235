"""The real window, driven by keys; what it did is looked at with the command line, which knows nothing of it.

Run: window_test.py JIGTIME JOURNAL, a journal of the demo. The journal is copied.
"""
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
import unittest
from pathlib import Path

import file_drop
from window_driver import Screen, Window, drop, new_home

JIGTIME = JOURNAL = ""
DAY = "2026-03-14"
NOW = bytes.fromhex("d55e00")  # vermillion of Okabe and Ito: the pointer of the moment on show
STRONG = bytes.fromhex("56b4e9")  # its sky blue: the button that a dark screen puts forward


class Driven(unittest.TestCase):
    def setUp(self):
        self.home = new_home()
        self.addCleanup(drop, self.home)
        self.screen = Screen()
        self.addCleanup(self.screen.close)
        self.window = Window(JIGTIME, self.screen, self.home)
        self.addCleanup(self.end)
        self.journal = self.home / "build.jigtime"
        self.ask("backup", JOURNAL, "--to", self.journal)

    def end(self):
        if self.window.program and self.window.program.poll() is None:
            self.window.program.kill()
            self.window.program.wait()

    def ask(self, *arguments):
        done = subprocess.run([JIGTIME, *map(str, arguments), "--json"], capture_output=True, text=True, timeout=60)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return json.loads(done.stdout)

    def spans(self):
        return self.ask("show", self.journal, "--session", DAY)["spans"]

    def marks(self):
        return self.ask("show", self.journal, "--session", DAY)["marks"]

    def wait_for(self, ready, what):
        try:
            return Window.wait_for(ready, what)
        except AssertionError as vain:
            shown = Path(tempfile.gettempdir()) / f"{self.id()}.png"
            self.window.picture(shown)
            raise AssertionError(f"{vain}; the window then: {shown}") from None

    def open(self):
        self.window.open(self.journal, title="Marten, serial 7")
        time.sleep(0.5)  # the snapshot

    def type_at(self, key, text):
        self.window.press(key)
        self.window.type(text)
        self.window.press("Return")

    def go_to(self, moment):
        self.type_at("g", moment)

    def screen_pixels(self, width=1280, height=800, left=0, top=0):
        """What is on that part of the screen: three bytes a pixel, row by row."""
        path = self.home / "screen.png"
        self.window.picture(path)
        return subprocess.run(["convert", str(path), "-crop", f"{width}x{height}+{left}+{top}", "+repage", "-depth", "8", "rgb:-"],
                              check=True, capture_output=True).stdout

    def pictures(self):
        """The first camera's picture, below its name."""
        return self.screen_pixels(280, 80, 16, 90)

    def now_line(self):
        """Where the pointer of the moment on show is, on the clock above the day strip's rows: a triangle, broad side up."""
        width, height = 1280, 800
        pixels = self.screen_pixels(width, height)
        for y in range(height):
            row = pixels[3 * y * width:3 * (y + 1) * width]
            broad = [x for x in range(width) if row[3 * x:3 * x + 3] == NOW]
            if len(broad) >= 4:
                return round((broad[0] + broad[-1]) / 2), y + 2
        self.fail("no pointer on the day strip")

    def mark_here(self, words):
        self.type_at("m", words)
        return self.wait_for(lambda: next((m for m in self.marks() if m["note"] == words), None), f"the mark {words}")["at_s"]


    def press_the_strong_button(self):
        """The one button that a screen puts forward."""
        width, height = 1280, 800
        pixels = self.screen_pixels(width, height)
        inside = [(i % width, i // width) for i in range(width * height) if pixels[3 * i:3 * i + 3] == STRONG]
        self.assertGreater(len(inside), 500, "a button is put forward")
        xs, ys = sorted(x for x, _ in inside), sorted(y for _, y in inside)
        self.window.xdotool("mousemove", xs[len(xs) // 2], ys[len(ys) // 2], "click", 1)


    def click(self, x, y):
        self.window.xdotool("mousemove", x, y, "click", 1)
        time.sleep(0.3)


class Bench(Driven):
    def test_a_day_is_tagged_undone_found_and_sealed_by_keys_alone(self):
        before = len(self.spans())
        self.open()
        self.go_to("3:00")
        self.type_at("t", "Prime the ribs")
        self.window.press("b")
        self.type_at("f", "3-3.5 x 72-2 squeezed")
        self.type_at("n", "two of them smoked")
        self.window.press("Right", "Right", "e")
        self.wait_for(lambda: len(self.spans()) == before + 1, "the tagged span")
        new = next(s for s in self.spans() if s["task"] == "Prime the ribs")
        self.assertAlmostEqual(new["begin_s"], 180, delta=0.05)
        self.assertAlmostEqual(new["end_s"], 190, delta=0.05)
        self.assertEqual(new["note"], "two of them smoked")
        self.assertEqual((new["people"], [(f["callout"], f["set"], f["drilled"], f["method"]) for f in new["fasteners"]]),
                         (["Tova Brandel"], [("MS20426AD3-3.5", 72, 2, "squeezed")]))

        self.window.press("ctrl+z")
        self.wait_for(lambda: len(self.spans()) == before, "the span to be taken back")
        self.window.press("ctrl+y")
        self.wait_for(lambda: len(self.spans()) == before + 1, "the span to be done again")

        self.window.press("Home", "F7")
        self.window.type("prime")
        self.wait_for(lambda: self.ask("find", self.journal, "prime")["hits"], "a hit")
        time.sleep(0.5)
        self.window.press("Return")
        time.sleep(0.3)
        self.assertAlmostEqual(self.mark_here("found by typing"), 180, delta=0.05)

        self.window.press("F5", "s")
        time.sleep(0.5)  # the question is read first
        self.window.press("y")
        self.wait_for(lambda: self.ask("verify", self.journal)["entries"] == 1, "the seal")
        self.window.press("F3", "b", "Right", "e")  # a sealed day takes no span
        time.sleep(0.5)
        self.assertEqual(len(self.spans()), before + 1)
        self.assertEqual(self.window.close(), 0)

        self.open()
        self.assertEqual(self.window.close(), 0)
        self.assertEqual(len(self.spans()), before + 1)
        found = self.ask("verify", self.journal)
        self.assertTrue(found["ok"], found)

    def test_what_is_found_comes_to_the_bench_at_its_moment(self):
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:01:07", "--note", "zebra label on the spar")
        self.open()
        self.go_to("2:40")
        self.window.press("F7")
        self.window.type("zebra")
        time.sleep(0.5)
        self.window.press("Return")
        time.sleep(0.3)
        self.assertAlmostEqual(self.mark_here("where find led"), 67, delta=0.05)
        self.window.close()

    def test_enter_right_behind_the_last_letter_leads_to_what_was_typed_and_not_to_what_was_found_before(self):
        """Enter once took the first hit of the text before, since the answer to the new one was still to come."""
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:01:07", "--note", "zebra label on the spar")
        self.ask("mark", self.journal, "--session", DAY, "--at", "0:02:07", "--note", "quagga label on the rib")
        self.open()
        self.window.press("F7")
        self.window.type("quagga")
        time.sleep(1)
        self.window.press("ctrl+a")
        self.window.xdotool("key", "--delay", 0, *"zebra", "Return")
        time.sleep(1)
        self.assertAlmostEqual(self.mark_here("where find led"), 67, delta=0.05)
        self.window.close()

    def test_keys_pressed_faster_than_the_window_draws_are_all_taken(self):
        """Each key counts once: what was pressed, let go and pressed again between two pictures was once taken as held down.
        Faster than this the screen's own server takes it for a key held down."""
        self.open()
        self.window.press("m")
        self.window.type("five too many12345")
        self.window.xdotool("key", "--delay", 60, *["BackSpace"] * 5)
        self.window.press("Return")
        self.wait_for(lambda: "five too many" in [mark["note"] for mark in self.marks()], "the mark without its last five letters")
        self.window.close()

    def seal_by_keys_right_behind(self, *keys):
        self.window.xdotool("key", "--delay", 0, *keys, "F5", "s")
        time.sleep(0.5)  # the question is read first
        self.window.press("y")
        self.wait_for(lambda: self.ask("verify", self.journal)["entries"] == 1, "the seal")

    def test_a_key_right_behind_enter_and_a_screens_key_is_taken(self):
        """The letter was once taken for text: the field that Enter had closed two pictures before still counted."""
        self.open()
        self.window.press("m")
        self.window.type("oil can at bay 3")
        self.seal_by_keys_right_behind("Return")
        self.assertIn("oil can at bay 3", [mark["note"] for mark in self.marks()])
        self.assertEqual(self.window.close(), 0)

    def test_a_key_right_behind_the_key_that_leaves_a_field_is_taken(self):
        self.open()
        self.window.press("F7")
        self.window.type("zebra")
        self.seal_by_keys_right_behind()
        self.assertEqual(self.window.close(), 0)

    def test_a_typed_time_and_a_click_on_the_clock_of_the_day_strip_show_that_moment_in_the_pictures(self):
        self.open()
        self.go_to("1:00")
        self.window.settle()
        first = self.pictures()
        self.go_to("1:30")
        self.window.settle()
        self.assertNotEqual(self.pictures(), first, "another moment shows other pictures")
        self.assertAlmostEqual(self.mark_here("typed"), 90, delta=0.05)
        now, top = self.now_line()
        self.go_to("1:00")
        self.window.settle()
        self.assertEqual(self.pictures(), first, "the same moment shows the same pictures")
        self.window.xdotool("mousemove", now, top, "click", 1)
        self.window.settle()
        self.assertAlmostEqual(self.mark_here("clicked"), 90, delta=0.5)  # a pixel is 0.2 s while the whole day is on show
        self.window.close()

    def test_the_film_plays_and_stands_still_and_steps_by_pictures(self):
        self.open()
        self.go_to("0:30")
        first = self.mark_here("before")
        self.assertAlmostEqual(first, 30, delta=0.05)
        self.window.press("space")
        time.sleep(1.5)
        self.window.press("space")
        played = self.mark_here("played") - first
        self.assertGreater(played, 0.5)
        self.assertLess(played, 8)
        stands = self.mark_here("stands")
        self.assertAlmostEqual(stands, first + played, delta=0.001)
        self.window.press("ctrl+Right")
        time.sleep(1)
        step = self.mark_here("one picture on") - stands
        self.assertGreater(step, 0)
        self.assertLess(step, 0.1)
        self.window.close()

    def test_what_is_typed_wrongly_is_refused_and_changes_nothing(self):
        self.open()
        before = (self.spans(), self.marks())
        self.type_at("f", "3-4 x many")
        self.window.press("Escape")
        self.type_at("g", "noon")
        self.window.press("Escape", "e", "shift+s", "Delete", "shift+b")
        time.sleep(0.5)
        self.assertEqual((self.spans(), self.marks()), before)
        self.window.close()

    def test_a_journal_opens_in_one_window_only_and_a_killed_window_loses_no_edit(self):
        count = len(self.spans()) + 1
        self.open()
        self.go_to("3:10")
        self.window.press("b", "Right", "e")
        self.wait_for(lambda: len(self.spans()) == count, "the span")
        second = subprocess.Popen([JIGTIME, str(self.journal)], env=self.window.environment)
        time.sleep(1.5)
        titles = subprocess.run(["xdotool", "search", "--name", "Marten, serial 7"], env=self.window.environment, capture_output=True, text=True)
        self.assertEqual(len(titles.stdout.split()), 1, "the second window must stay without the journal")
        second.kill()
        second.wait()
        self.window.program.send_signal(signal.SIGKILL)
        self.window.program.wait()
        self.assertEqual(len(self.spans()), count)
        self.open()
        self.assertEqual(self.window.close(), 0)


class Dropping(Driven):
    """Files dropped as a file manager drops them, over XDND."""

    def drop(self, *files):
        window = self.window.find("Jigtime")
        self.assertTrue(file_drop.drop(self.screen.display, window, 600, 300, files), "the window takes files")

    def card(self):
        """The folder of one camera with one short clip."""
        folder = self.home / "over the vice"
        folder.mkdir()
        subprocess.run(["ffmpeg", "-nostdin", "-v", "error", "-f", "lavfi", "-i", "testsrc=size=160x90:rate=10:duration=2", "-f", "lavfi", "-i",
                        "anoisesrc=d=2:c=pink:a=0.1", "-metadata", "creation_time=2026-04-18T09:30:00Z", str(folder / "a clip.mp4")], check=True)
        return folder

    def test_a_folder_dropped_onto_an_open_journal_is_imported_with_its_name_as_the_camera(self):
        journal = self.home / "empty.jigtime"
        subprocess.run([JIGTIME, "new", str(journal), "--build", "Marten, serial 8", "--zone", "Europe/Lisbon"], check=True, capture_output=True)
        self.window.open(journal, title="Marten, serial 8")
        self.window.settle()
        self.drop(self.card())
        self.window.settle()
        self.press_the_strong_button()
        day = self.wait_for(lambda: next(iter(self.ask("show", journal)["sessions"]), None), "the imported day")["session"]
        self.assertEqual(day, "2026-04-18")
        self.assertEqual([clip["camera"] for clip in self.ask("show", journal, "--session", day)["clips"]], ["over the vice"])
        self.assertEqual(self.window.close(), 0)

    def test_a_clip_without_a_place_is_laid_at_the_moment_on_show(self):
        journal = self.home / "unplaced.jigtime"
        self.ask("new", journal, "--build", "Marten, serial 9", "--zone", "Europe/Lisbon")
        self.ask("import", journal, "--camera", f"vice={self.card()}")
        self.window.open(journal, title="Marten, serial 9")
        self.window.press("F2")
        self.window.settle()
        self.click(970, 452)  # beside its name, at 1280 x 800
        clip = lambda: self.ask("show", journal, "--session", "2026-04-18")["clips"][0]
        self.assertEqual(self.wait_for(lambda: clip()["pieces"] and clip(), "a place")["basis"], "manual")
        self.assertEqual(clip()["pieces"][0]["session_start_s"], 0)
        self.window.press("ctrl+z")
        self.wait_for(lambda: not clip()["pieces"], "no place again")
        self.assertEqual(self.window.close(), 0)

    def test_a_journal_dropped_onto_the_start_screen_opens(self):
        self.window.open()
        self.window.settle()
        self.drop(self.journal)
        self.wait_for(lambda: self.window.find("Marten, serial 7"), "the journal in the window")
        self.assertEqual(self.window.close(), 0)

    def test_for_a_folder_dropped_before_there_is_a_journal_one_is_made_and_the_folder_imported(self):
        self.window.open()
        self.window.settle()
        card = self.card()
        before = sorted((file.name, file.stat().st_mtime_ns) for file in card.iterdir())
        self.drop(card)
        self.window.settle()
        self.assertEqual(list(self.home.rglob("*.jigtime")), [self.journal], "nothing is made before it is asked for")
        self.press_the_strong_button()
        self.wait_for(lambda: self.window.find("My build"), "the new journal in the window")
        made = next(path for path in self.home.rglob("*.jigtime") if path != self.journal)
        day = self.wait_for(lambda: next(iter(self.ask("show", made)["sessions"]), None), "the imported day")["session"]
        self.assertEqual([clip["camera"] for clip in self.ask("show", made, "--session", day)["clips"]], ["over the vice"])
        self.assertEqual(sorted((file.name, file.stat().st_mtime_ns) for file in card.iterdir()), before)
        self.assertEqual(self.window.close(), 0)

    def test_a_folder_dropped_before_a_journal_is_opened_waits_there_to_be_imported(self):
        self.window.open()
        self.window.settle()
        self.drop(self.card())
        self.window.settle()
        self.drop(self.journal)
        self.wait_for(lambda: self.window.find("Marten, serial 7"), "the journal in the window")
        self.window.settle()
        self.assertEqual([session["session"] for session in self.ask("show", self.journal)["sessions"]], [DAY])
        self.press_the_strong_button()
        self.wait_for(lambda: len(self.ask("show", self.journal)["sessions"]) == 2, "the imported day")
        self.assertEqual(self.window.close(), 0)


class Register(Driven):
    """What the record is about: names, plans, marks and amendments. Fields are clicked where they stand at 1280 x 800."""

    def people(self):
        return [person["person"] for person in self.ask("person", self.journal, "list")["people"]]

    def planned(self):
        return {line["callout"]: line["planned"] for line in self.ask("rivets", self.journal)["rows"] if line["planned"]}

    def test_a_plan_is_typed_and_taken_back(self):
        self.open()
        before = self.planned()
        self.window.press("F4")
        self.click(300, 138)
        self.window.type("Rivet the upper skin")
        # Letters right behind Tab were once dropped while the next field was on its way to the keyboard.
        self.window.xdotool("key", "--delay", 0, "Tab", *"ms20")
        self.window.type("470 ad4-6 x 30 @0.064")
        self.window.press("Return")
        self.wait_for(lambda: self.planned() == {**before, "MS20470AD4-6": 30}, "the planned line")
        self.window.press("ctrl+z")
        self.wait_for(lambda: self.planned() == before, "the plan as it was")
        self.click(900, 138)
        self.window.press("ctrl+a")
        self.window.type("3-4 x 72 squeezed")
        self.window.press("Return")
        time.sleep(0.5)
        self.assertEqual(self.planned(), before)
        self.window.close()

    def test_a_person_is_added_and_another_renamed_and_both_taken_back(self):
        self.open()
        before = self.people()
        self.window.press("F8")
        self.click(200, 154)
        self.window.type("Bo Holt")
        self.window.press("Return")
        self.wait_for(lambda: self.people() == before + ["Bo Holt"], "the new person")
        self.click(773, 230)
        self.click(1000, 230)
        self.window.press("ctrl+a")
        self.window.type("Tova Brandel-Karsk")
        self.window.press("Return")
        self.wait_for(lambda: self.people() == ["Tova Brandel-Karsk", *before[1:], "Bo Holt"], "the new name")
        self.window.press("ctrl+z", "ctrl+z")
        self.wait_for(lambda: self.people() == before, "the people as they were")
        self.window.close()

    def test_a_clicked_mark_is_copied_to_another_moment(self):
        self.open()
        self.go_to("2:00")
        at = self.mark_here("zebra label")
        self.window.settle()
        now, top = self.now_line()
        self.click(now + 6, top + 32)
        self.go_to("2:40")
        self.window.press("c")
        self.wait_for(lambda: [round(m["at_s"]) for m in self.marks() if m["note"] == "zebra label"] == [round(at), 160], "the copy")
        self.window.close()

    def test_a_clicked_mark_gets_other_words_and_its_old_ones_back(self):
        self.open()
        self.go_to("2:00")
        at = self.mark_here("zebra label")
        self.window.settle()
        now, top = self.now_line()
        self.window.press("shift+m")  # none is clicked yet
        self.click(now + 6, top + 32)
        self.go_to("2:40")
        self.window.press("shift+m")
        self.window.type(" on the spar")
        self.window.press("Return")
        self.wait_for(lambda: [m["at_s"] for m in self.marks() if m["note"] == "zebra label on the spar"] == [at], "the new words")
        self.window.press("ctrl+z")
        self.wait_for(lambda: "zebra label" in [m["note"] for m in self.marks()], "the old words")
        self.assertEqual(self.window.close(), 0)

    def test_an_event_in_two_clips_is_tied_and_the_tie_taken_back(self):
        self.open()
        self.go_to("1:00")
        self.window.settle()
        now, top = self.now_line()
        for row in (80, 128):  # the second line of the day strip's cameras lies 48 pixels below the first
            self.click(now + 30, top + row)
            self.go_to("1:00" if row == 80 else "1:02")
            self.window.press("shift+t")
            time.sleep(0.5)
        tie = self.wait_for(lambda: self.ask("tie", self.journal, "--session", DAY)["ties"], "the tie")[0]
        self.assertEqual((tie["a"]["file"], tie["b"]["file"]), ("BNCH0041.MP4", "TAKE0107.MOV"))
        self.assertAlmostEqual(tie["a"]["at_s"], 60, delta=0.1)
        self.window.press("ctrl+z")
        self.wait_for(lambda: not self.ask("tie", self.journal, "--session", DAY)["ties"], "no tie")
        self.window.close()

    def test_a_sealed_entry_is_amended_with_a_reason_only(self):
        self.ask("seal", self.journal, "--session", DAY)
        self.open()
        self.window.press("F5")
        self.window.settle()
        self.click(790, 230)
        self.window.type("58 rivets")
        self.window.press("Tab")
        self.window.type("56 rivets")
        self.press_the_strong_button()
        time.sleep(0.5)
        self.assertEqual(self.ask("verify", self.journal)["entries"], 1, "no amendment without a reason")
        self.window.press("Tab", "Tab", "Tab")
        self.window.type("counted twice")
        self.press_the_strong_button()
        self.wait_for(lambda: self.ask("verify", self.journal)["entries"] == 2, "the amendment")
        self.assertTrue(self.ask("verify", self.journal)["ok"])
        self.window.close()


class ReadOnly(Driven):
    """A journal that may be looked at and not written, as one on a locked card or of somebody else."""

    def tagging_buttons(self):
        """Whether the panel beside the pictures puts a button forward."""
        pixels = self.screen_pixels(340, 330, 930, 50)
        return any(pixels[i:i + 3] == STRONG for i in range(0, len(pixels), 3))

    def test_it_is_shown_and_takes_no_edit(self):
        locked = self.home / "locked"
        locked.mkdir()
        journal = locked / "build.jigtime"
        self.open()
        self.assertTrue(self.tagging_buttons(), "a journal that can be written is tagged in")
        self.assertEqual(self.window.close(), 0)
        self.journal.rename(journal)
        self.journal = journal
        before = (journal.read_bytes(), self.marks())
        who = {}
        if os.geteuid() == 0:  # permissions do not hold root
            who = {"user": 65534, "group": 65534, "extra_groups": []}
            try:
                subprocess.run([JIGTIME, "--version"], check=True, capture_output=True, **who)
            except (OSError, subprocess.CalledProcessError):
                self.skipTest("nobody may run the program from here")
            subprocess.run(["chown", "-R", "65534:65534", self.home], check=True)
            subprocess.run(["chown", "-R", "0:0", locked], check=True)
        locked.chmod(0o555)
        self.addCleanup(locked.chmod, 0o755)
        journal.chmod(0o444)
        self.window.open(journal, title="Marten, serial 7", **who)
        time.sleep(0.5)
        self.go_to("2:00")
        self.window.press("b", "Right", "e", "F3")
        self.type_at("m", "zebra label")
        self.window.settle()
        self.assertFalse(self.tagging_buttons(), "there is nothing to begin")
        self.assertEqual(self.window.close(), 0)
        self.assertEqual((journal.read_bytes(), self.marks()), before)


class Rest(Driven):
    def test_an_idle_window_sleeps(self):
        self.open()
        time.sleep(2.5)  # sounds read, first pictures fetched
        before = self.window.processor_seconds()
        time.sleep(4)
        share = (self.window.processor_seconds() - before) / 4
        print(f"idle: {100 * share:.2f} % of a core; first frame after {self.window.first_frame_ms():.0f} ms")
        self.assertLessEqual(share, 0.01)
        self.window.close()

    def test_settings_are_remembered(self):
        self.window.open()
        self.window.press("ctrl+equal")
        time.sleep(0.5)
        self.assertEqual(self.window.close(), 0)
        self.assertIn("scale_percent: 110", (self.home / "config/jigtime/window.txt").read_text())

    def test_what_is_no_journal_is_refused_and_not_touched(self):
        self.journal.write_bytes(os.urandom(4096))
        content = self.journal.read_bytes()
        self.window.open(self.journal)
        time.sleep(1)
        self.assertEqual(self.window.close(), 0)
        self.assertEqual(self.journal.read_bytes(), content)


if __name__ == "__main__":
    JIGTIME, JOURNAL = sys.argv[1:3]
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]], verbosity=2)
