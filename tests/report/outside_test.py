"""What the report writes, read by other programs: outside_test.py REPORT_SAMPLES SCHEMA

One run of report_samples writes every invented session and book in every format; each class below reads them by a program that
is not ours. Sources: RFC 4180 (csv), RFC 5545 (calendar), W3C WebVTT, the OpenTimelineIO serialized schema, JSON Schema draft-07,
ISO 32000 as qpdf and poppler read it, HTML as Chromium reads it.
"""
import csv
import html
import json
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as tree
from fractions import Fraction
from pathlib import Path

SAMPLES, SCHEMA = "", ""
FOLDER = Path()
SESSIONS = ["elevator", "empty", "long", "crowded", "hostile", "scripts"]
BOOKS = ["by_date", "by_assembly", "no_sessions"]


def run(*arguments, **more):
    return subprocess.run([str(argument) for argument in arguments], capture_output=True, text=True, **more)


def one_line(text):
    return " ".join(text.split())


def setUpModule():
    global FOLDER
    FOLDER = Path(tempfile.mkdtemp(prefix="jigtime-report-"))
    still = FOLDER / "still.jpg"
    run("ffmpeg", "-v", "error", "-f", "lavfi", "-i", "testsrc=size=640x360", "-frames:v", "1", still, check=True)
    run(SAMPLES, FOLDER, still, check=True)


def tearDownModule():
    shutil.rmtree(FOLDER, ignore_errors=True)


def sessions():
    return [(name, FOLDER / name, json.loads((FOLDER / name / "session.json").read_text(encoding="utf-8"))) for name in SESSIONS]


class Tables(unittest.TestCase):
    def test_python_reads_every_row_back_with_all_its_fields(self):
        for name, folder, record in sessions():
            for table in ["hours", "spans", "fasteners"]:
                with open(folder / f"{table}.csv", newline="", encoding="utf-8") as file:
                    rows = list(csv.reader(file, strict=True))
                self.assertEqual({len(row) for row in rows}, {len(rows[0])}, (name, table))
                for row in rows[1:]:
                    for field in row:
                        self.assertNotIn(field[:1], ["=", "+", "-", "@", "\t", "\r"], (name, table, field))
            with open(folder / "spans.csv", newline="", encoding="utf-8") as file:
                spans = list(csv.DictReader(file, strict=True))
            self.assertEqual(len(spans), len(record["spans"]))
            for row, span in zip(spans, record["spans"]):
                hours, minutes, seconds = row["from"].split(":")
                self.assertAlmostEqual(int(hours) * 3600 + int(minutes) * 60 + float(seconds), span["begin_s"], delta=0.0006)
                self.assertEqual(row["note"].lstrip("'").strip(), span["note"].lstrip("'").strip())

    def test_sqlite_imports_every_row(self):
        for name, folder, record in sessions():
            script = f".import --csv {folder / 'spans.csv'} spans\n.import --csv {folder / 'hours.csv'} hours\nselect count(*) from spans;\n" \
                     "select coalesce(sum(seconds), 0) from hours;\n"
            done = run("sqlite3", ":memory:", input=script)
            # An empty table has a header alone: sqlite3 makes the table all the same.
            self.assertEqual(done.stderr, "", name)
            count, seconds = done.stdout.split()
            self.assertEqual(int(count), len(record["spans"]), name)
            self.assertAlmostEqual(int(seconds), record["hours"]["person_seconds"], delta=1)


class Calendar(unittest.TestCase):
    """RFC 5545 read by the rules of its sections 3.1 (lines), 3.3.11 (text) and 3.6 (components)."""

    def read(self, raw):
        self.assertTrue(raw.endswith(b"\r\n"))
        lines = raw.split(b"\r\n")[:-1]
        for line in lines:
            self.assertLessEqual(len(line), 75)
            line.decode("utf-8")  # no character is cut by a fold
            self.assertNotRegex(line, rb"[\x00-\x08\x0a-\x1f\x7f]")
        text = raw.decode("utf-8").replace("\r\n ", "")
        found = []
        for line in text.split("\r\n")[:-1]:
            match = re.fullmatch(r"([A-Z-]+)((?:;[A-Z-]+=[^:;]+)*):(.*)", line)
            self.assertIsNotNone(match, line)
            found.append((match[1], match[2], match[3]))
        return found

    def unescape(self, text):
        self.assertNotRegex(text, r"(?<!\\)(?:\\\\)*[;,]", "an unescaped separator")
        return re.sub(r"\\(.)", lambda match: {"n": "\n", "N": "\n"}.get(match[1], match[1]), text)

    def test_every_event_is_well_formed_and_says_what_the_record_says(self):
        for name, folder, record in sessions():
            lines = self.read((folder / "session.ics").read_bytes())
            self.assertEqual([lines[0][::2], lines[-1][::2]], [("BEGIN", "VCALENDAR"), ("END", "VCALENDAR")])
            keys = [key for key, _, _ in lines]
            for once in ["VERSION", "PRODID", "UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION"]:
                self.assertEqual(keys.count(once), 1, (name, once))
            values = {key: value for key, _, value in lines}
            self.assertRegex(values["DTSTAMP"], r"^\d{8}T\d{6}Z$")
            summary = self.unescape(values["SUMMARY"])
            self.assertTrue(summary.endswith(": session"), name)
            if name == "elevator":
                # Zero is 08:09 UTC; work runs from 0:04 to 2:20.
                self.assertEqual((values["DTSTART"], values["DTEND"]), ("20260314T081300Z", "20260314T102900Z"))
                self.assertIn("Rain all day.", self.unescape(values["DESCRIPTION"]))
            if name == "empty":
                self.assertEqual(values["DTSTART"], "20260314")


class Chapters(unittest.TestCase):
    def test_ffmpeg_takes_the_films_chapters_with_their_titles(self):
        # ffmpeg manual, "Metadata": read by ffmpeg, told by ffprobe.
        for name in ["elevator", "hostile", "scripts"]:
            film = FOLDER / f"{name}.mka"
            run("ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-t", "1", "-i", "anullsrc", "-i", FOLDER / name / "film.ffmetadata", "-map", "0:a",
                "-map_metadata", "1", "-map_chapters", "1", film, check=True)
            told = json.loads(run("ffprobe", "-v", "error", "-show_chapters", "-of", "json", film, check=True).stdout)["chapters"]
            record = json.loads((FOLDER / name / "session.json").read_text(encoding="utf-8"))
            self.assertGreaterEqual(len(told), len(record["spans"]))
            titles = [chapter["tags"]["title"] for chapter in told]
            self.assertIn(" ".join(record["spans"][0]["task"].split()), [" ".join(title.split()) for title in titles])
            self.assertIn("Break", titles)
            if name == "elevator":
                # The film begins at session time 0; the helper's edge lies inside the riveting, which goes on after it.
                self.assertEqual([float(told[i]["start_time"]) for i in range(5)], [240, 2280, 2820, 3900, 4350])

    def test_ffprobe_reads_every_file_of_chapters_as_webvtt(self):
        for name in ["elevator", "hostile", "scripts"]:
            files = sorted((FOLDER / name / "chapters").iterdir())
            self.assertGreater(len(files), 3)
            for file in files:
                told = json.loads(run("ffprobe", "-v", "error", "-show_packets", "-show_streams", "-of", "json", file, check=True).stdout)
                self.assertEqual(told["streams"][0]["codec_name"], "webvtt")
                self.assertEqual(len(told["packets"]), file.read_text(encoding="utf-8").count(" --> "))

    def test_a_chapter_begins_where_the_span_lies_in_that_file(self):
        text = next((FOLDER / "elevator" / "chapters").glob("*BN_0043*")).read_text(encoding="utf-8")
        # The clip begins at 1:31:00, in the break up to 1:33; riveting goes on to 2:20:00.
        self.assertIn("00:00:00.000 --> 00:02:00.000\nBreak", text)
        self.assertIn("00:02:00.000 --> 00:49:00.000\nRivet elevator skin", text)
        self.assertIn("00:45:00.000 --> 00:45:01.000\nMark M4: Finished skin against the light.", text)


class CutList(unittest.TestCase):
    """A reader of its own, from the published schema: every item's place is the sum of what stands before it in its track."""

    FIELDS = {
        "Timeline.1": {"metadata", "name", "global_start_time", "tracks"},
        "Stack.1": {"metadata", "name", "source_range", "effects", "markers", "enabled", "children"},
        "Track.1": {"metadata", "name", "source_range", "effects", "markers", "enabled", "children", "kind"},
        "Gap.1": {"metadata", "name", "source_range", "effects", "markers", "enabled"},
        "Clip.2": {"metadata", "name", "source_range", "effects", "markers", "enabled", "media_references", "active_media_reference_key"},
        "Marker.2": {"metadata", "name", "color", "comment", "marked_range"},
        "ExternalReference.1": {"metadata", "name", "available_range", "available_image_bounds", "target_url"},
        "TimeRange.1": {"start_time", "duration"},
        "RationalTime.1": {"rate", "value"},
    }

    def check_fields(self, thing):
        if isinstance(thing, list):
            for one in thing:
                self.check_fields(one)
        if isinstance(thing, dict):
            if "OTIO_SCHEMA" in thing:
                self.assertEqual(set(thing) - {"OTIO_SCHEMA"}, self.FIELDS[thing["OTIO_SCHEMA"]])
            for one in thing.values():
                self.check_fields(one)

    @staticmethod
    def seconds(time):
        return Fraction(time["value"]) / Fraction(time["rate"])

    def placed(self, document):
        """(kind, track, file, from, to, from in the file), in seconds."""
        for track in document["tracks"]["children"]:
            at = Fraction(0)
            for item in track["children"]:
                length = self.seconds(item["source_range"]["duration"])
                if item["OTIO_SCHEMA"] == "Clip.2":
                    reference = item["media_references"][item["active_media_reference_key"]]
                    yield track["kind"], track["name"], item, reference, at, at + length, self.seconds(item["source_range"]["start_time"])
                at += length

    def test_every_cut_lies_within_one_picture_of_the_journal(self):
        for name, folder, record in sessions():
            document = json.loads((folder / "timeline.otio").read_text(encoding="utf-8"))
            self.check_fields(document)
            cuts = list(self.placed(document))
            placed = {}
            for clip in record["clips"]:
                for part in clip["parts"]:
                    placed[(one_line(clip["camera"]), one_line(part["file"]))] = (clip, part)
            worst = 0.0
            covered = {}
            for kind, track, item, reference, begin, end, file_from in cuts:
                rate = item["source_range"]["duration"]["rate"]
                track = one_line(track)
                clip, part = placed[(track, one_line(item["name"]))]
                self.assertRegex(reference["target_url"], r"^(file:///)?[A-Za-z0-9/._~%-]+$")
                for timeline_at, into_file in [(begin, file_from), (end, file_from + end - begin)]:
                    clip_at = part["clip_from_s"] + float(into_file)
                    on_clock = min(abs(piece["session_start_s"] + (clip_at - piece["clip_from_s"]) * (1 + piece["rate_ppm"] * 1e-6) - float(timeline_at))
                                   for piece in clip["pieces"])
                    worst = max(worst, on_clock * rate)
                covered[(kind, track, one_line(item["name"]))] = covered.get((kind, track, one_line(item["name"])), 0) + float(end - begin)
            self.assertLessEqual(worst, 1.0, name)
            # Nothing of what is placed is missing: a picture at each end of each cut at the most.
            for (camera, file), (clip, part) in placed.items():
                if clip["basis"] == "none":
                    continue
                wanted = sum(max(0.0, min(piece["clip_to_s"], part["clip_from_s"] + part["duration_s"]) - max(piece["clip_from_s"], part["clip_from_s"]))
                             for piece in clip["pieces"])
                for kind in ["Video", "Audio"]:
                    self.assertAlmostEqual(covered[(kind, camera, file)], wanted, delta=0.5, msg=(name, kind, file))
            self.assertEqual(len(document["tracks"]["markers"]), len(record["spans"]) + len(record["marks"]))


class Record(unittest.TestCase):
    def test_ajv_finds_every_session_true_to_the_schema_and_a_changed_one_not(self):
        # ajv, the npm package as Debian has it (node-ajv), one process for all.
        script = """
const Ajv = require('ajv');
const fs = require('fs');
const check = new Ajv({allErrors: true}).compile(JSON.parse(fs.readFileSync(process.argv[1])));
for (const path of process.argv.slice(2)) {
  const record = JSON.parse(fs.readFileSync(path));
  if (!check(record)) console.log(path, JSON.stringify(check.errors.slice(0, 3)));
  record.session.date = '14.3.2026';
  record.surprise = 1;
  if (check(record) || check.errors.length !== 2) console.log(path, 'a changed record passes');
}
"""
        files = [FOLDER / name / "session.json" for name in SESSIONS]
        done = run("node", "-e", script, SCHEMA, *files, env={"NODE_PATH": "/usr/share/nodejs", "PATH": "/usr/bin:/bin"})
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))

    def test_the_shipped_schema_is_the_one_in_assets(self):
        self.assertEqual((FOLDER / "empty" / "session.schema.json").read_bytes(), Path(SCHEMA).read_bytes())


class Pdf(unittest.TestCase):
    FILES = [f"{name}/timeline.pdf" for name in SESSIONS] + [f"{name}/book.pdf" for name in BOOKS]

    def text(self, file, *options):
        return run("pdftotext", *options, FOLDER / file, "-", check=True).stdout

    def test_qpdf_finds_no_fault_in_any(self):
        for file in self.FILES:
            done = run("qpdf", "--check", FOLDER / file)
            self.assertEqual(done.returncode, 0, (file, done.stdout, done.stderr))

    def test_the_book_says_the_same_in_either_order(self):
        both = {}
        for order in ["by_date", "by_assembly"]:
            text = " ".join(self.text(f"{order}/book.pdf", "-raw").split())
            both[order] = text
            for words in ["Heron 2", "XX-HRN", "Ilda Serrano", "MS20426AD3-3.5", "Findings are the authority's", "Smoked rivet, third from the left",
                          "One low head.", "Assemble the rudder", "Running total", "not sealed", "Counted again."]:
                self.assertIn(words, text, order)
        for words, times in [("Driven with the small gun.", 9), ("Finished skin.", 9), ("First rivet of the row", 9)]:
            self.assertEqual([text.count(words) for text in both.values()], [times, times], words)

    def test_every_page_but_the_first_has_its_number_and_no_heading_ends_one(self):
        headings = re.compile(r"^(Entries of \d+|\d+ \w+ 20\d\d(, entry \d+)?(, not sealed)?:.*|Hours|What waits|Inspections|Checklists|People and roles)$")
        for file in ["by_date/book.pdf", "by_assembly/book.pdf"]:
            pages = self.text(file, "-layout").split("\f")[:-1]
            self.assertGreater(len(pages), 6)
            contents = 2
            for number, page in enumerate(pages[1:], 2):
                lines = [line.strip() for line in page.splitlines() if line.strip()]
                self.assertEqual(lines[-1], f"Page {number} of {len(pages)}")
                if number > contents:
                    self.assertNotRegex(lines[-2], headings, (file, number))

    def test_the_contents_name_the_pages_on_which_the_headings_stand(self):
        pages = self.text("by_date/book.pdf", "-layout").split("\f")
        found = 0
        for line in pages[1].splitlines():
            match = re.fullmatch(r"\s*(\S.*?)\s{2,}(\d+)", line)
            if not match:
                continue
            found += 1
            body = " ".join(pages[int(match[2]) - 1].split())
            self.assertIn(" ".join(match[1].split())[:40], body)
        self.assertGreater(found, 15)

    def test_the_outline_and_the_links_lead_to_places_in_the_book(self):
        document = json.loads(run("qpdf", "--json", "--json-key=outlines", "--json-key=pages", FOLDER / "by_date/book.pdf", check=True).stdout)
        titles = [outline["title"] for outline in document["outlines"]]
        for words in ["People and roles", "Entries of 2025", "Entries of 2026", "Hours", "Seals and how to check them"]:
            self.assertIn(words, titles)
        entries = [kid["title"] for outline in document["outlines"] if outline["title"].startswith("Entries") for kid in outline["kids"]]
        self.assertEqual(len(entries), 10)
        self.assertTrue(all(outline["destpageposfrom1"] for outline in document["outlines"]))
        self.assertIn("/Link", run("qpdf", "--qdf", "--object-streams=disable", FOLDER / "by_date/book.pdf", "-", check=True, errors="replace").stdout)

    def test_a_digest_can_be_copied_from_the_page_and_is_the_same(self):
        for order in ["by_date", "by_assembly"]:
            page = re.sub("<style>.*?</style>", "", (FOLDER / order / "book.html").read_text(encoding="utf-8"), flags=re.S)
            digests = re.findall(r"\b[0-9a-f]{64}\b", page)
            self.assertGreaterEqual(len(set(digests)), 10)
            for mode in ["-raw", "-layout"]:
                text = self.text(f"{order}/book.pdf", mode)
                # The signature stands in two lines of 64, as on the page.
                self.assertEqual(sorted(re.findall(r"\b[0-9a-f]{64}\b", text)), sorted(digests), (order, mode))

    def test_the_text_is_tagged_for_those_who_have_it_read_to_them(self):
        # ISO 32000-1, 14.8, as poppler's pdfinfo reads it.
        for file in ["by_date/book.pdf", "elevator/timeline.pdf"]:
            self.assertRegex(run("pdfinfo", FOLDER / file, check=True).stdout, r"Tagged:\s+yes")
            told = run("pdfinfo", "-struct-text", FOLDER / file, check=True)
            self.assertEqual(told.stderr, "")
            tree = told.stdout
            for tag in ["H1", "P", "Table", "TR", "TH", "TD"]:
                self.assertRegex(tree, rf"(?m)^\s*{tag}\b", (file, tag))
            self.assertRegex(tree, r'H1 \(block\)\s+"(Contents|Hours|Marks|Heron)')

    def test_names_in_other_scripts_are_there_as_text(self):
        text = self.text("by_date/book.pdf")
        self.assertIn("山田 花子", text)
        # Poppler marks the direction of such words, letter by letter.
        self.assertIn("רותם", re.sub("[\u202a-\u202e\\s]", "", text))
        self.assertNotRegex(text, "[\ufb00-\ufb06]", "letters grown together are not found by a search")
        self.assertIn("昇降舵", "".join(self.text("scripts/timeline.pdf", "-raw").split()))

    def test_pages_hold_ink_inside_their_margins_alone(self):
        for file in ["by_date/book.pdf", "scripts/timeline.pdf", "hostile/timeline.pdf", "crowded/timeline.pdf"]:
            done = subprocess.run(["pdftoppm", "-gray", "-r", "24", "-l", "6", str(FOLDER / file)], capture_output=True, check=True)
            data, pages = done.stdout, 0
            while data:
                header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
                width, height = int(header[1]), int(header[2])
                picture = data[header.end():header.end() + width * height]
                data = data[header.end() + width * height:]
                rows = [picture[y * width:(y + 1) * width] for y in range(height)]
                self.assertLess(min(picture), 100, (file, pages))
                edge = 7  # a quarter of an inch at 24 dots
                for row in rows:
                    self.assertGreater(min(row[:edge] + row[-edge:]), 200, (file, pages))
                pages += 1
            self.assertGreater(pages, 0)


class Drawing(unittest.TestCase):
    def test_the_svg_is_well_formed_and_refers_to_nothing_outside_itself(self):
        for name in SESSIONS:
            for element in tree.parse(FOLDER / name / "timeline.svg").iter():
                for key, value in element.attrib.items():
                    if key.endswith("href"):
                        self.assertTrue(value.startswith("#") or value.startswith("data:"), value)


class Browser(unittest.TestCase):
    """All pages and all chapters in one run of headless Chromium: a page of frames and tracks that tells what it saw."""

    HOST = """<!DOCTYPE html><meta charset="utf-8"><title>wait</title><body><script>
const tracks = TRACKS, pages = PAGES, seen = {tracks: {}, pages: {}};
const later = [];
for (const [name, text] of Object.entries(tracks)) later.push(new Promise(done => {
  const video = document.createElement('video');
  const track = document.createElement('track');
  track.kind = 'chapters';
  track.src = URL.createObjectURL(new Blob([text], {type: 'text/vtt'}));
  track.onload = () => { seen.tracks[name] = Array.from(track.track.cues).map(c => [c.startTime, c.endTime, c.text]); done(); };
  track.onerror = () => { seen.tracks[name] = 'refused'; done(); };
  video.appendChild(track);
  document.body.appendChild(video);
  track.track.mode = 'hidden';
}));
for (const name of pages) later.push(new Promise(done => {
  const frame = document.createElement('iframe');
  frame.width = 900;
  frame.onload = () => {
    const page = frame.contentDocument;
    seen.pages[name] = {
      title: page.title,
      finds: page.querySelector('.tools input') !== null,
      asked: page.defaultView.performance.getEntriesByType('resource').map(e => e.name).filter(name => !name.startsWith('data:')),
      pictures: Array.from(page.images).map(i => i.naturalWidth),
      wide: page.documentElement.scrollWidth - page.documentElement.clientWidth,
      dead: Array.from(page.querySelectorAll('a[href]')).filter(a => !page.getElementById(a.getAttribute('href').slice(1))).length
    };
    const field = page.querySelector('.tools input');
    if (field) {
      field.value = 'rivet ELEVATOR';
      field.dispatchEvent(new Event('input'));
      seen.pages[name].left = page.querySelectorAll('tbody tr:not([hidden])').length;
      seen.pages[name].rows = page.querySelectorAll('tbody tr').length;
    }
    done();
  };
  frame.src = name;
  document.body.appendChild(frame);
}));
Promise.all(later).then(() => {
  const out = document.createElement('pre');
  out.id = 'seen';
  out.textContent = JSON.stringify(seen);
  document.body.replaceChildren(out);
});
</script></body>"""

    def test_no_page_asks_for_anything_or_complains_and_every_chapter_is_read(self):
        pages = [f"{name}/timeline.html" for name in SESSIONS] + [f"{name}/book.html" for name in BOOKS]
        tracks = {f"{name}/{file.name}": file.read_text(encoding="utf-8")
                  for name in ["elevator", "hostile", "scripts"] for file in sorted((FOLDER / name / "chapters").iterdir())}
        host = self.HOST.replace("TRACKS", json.dumps(tracks).replace("<", "\\u003c")).replace("PAGES", json.dumps(pages))
        (FOLDER / "host.html").write_text(host, encoding="utf-8")
        done = run("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--enable-logging=stderr",
                   "--disable-background-networking", "--disable-component-update", "--allow-file-access-from-files", "--proxy-server=127.0.0.1:9",
                   f"--user-data-dir={FOLDER / 'profile'}", "--virtual-time-budget=20000", "--dump-dom", (FOLDER / "host.html").as_uri(), timeout=500)
        self.assertEqual([line for line in done.stderr.splitlines() if "CONSOLE" in line], [])
        seen = json.loads(html.unescape(re.search(r'<pre id="seen">(.*?)</pre>', done.stdout, re.S)[1]))
        for name, text in tracks.items():
            self.assertEqual(len(seen["tracks"][name]), text.count(" --> "), name)
        (cues,) = [cues for name, cues in seen["tracks"].items() if "elevator" in name and "BN_0043" in name]
        self.assertIn([120.0, 2940.0, "Rivet elevator skin"], cues)
        for name in pages:
            page = seen["pages"][name]
            self.assertTrue(page["title"], name)
            self.assertEqual(page["asked"], [], (name, "the browser's own list of what the page asked for"))
            self.assertEqual(page["dead"], 0, name)
            self.assertLessEqual(page["wide"], 0, (name, "nothing sticks out on the right"))
            self.assertNotIn(0, page["pictures"], name)
            self.assertEqual(page["finds"], name.endswith("timeline.html"), name)
        found = seen["pages"]["elevator/timeline.html"]
        self.assertEqual(len(found["pictures"]), 3)
        self.assertTrue(0 < found["left"] < found["rows"], found)
        self.assertEqual(len(seen["pages"]["by_date/book.html"]["pictures"]), 19)


if __name__ == "__main__":
    SAMPLES, SCHEMA = sys.argv[1], sys.argv[2]
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
