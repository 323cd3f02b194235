// What each format says, case by case; outside_test.py has other programs read the same.
#include "report/formats.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "report/cut_list.h"
#include "report/sample_sessions.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;
using namespace std::chrono_literals;

namespace {

Timeline one_clip(std::int64_t rate_ppb, Length length) {
  Timeline timeline = test::empty_session();
  timeline.known.cameras = {{{1}, "bench"}};
  timeline.record.session.reference = journal::CameraId{1};
  journal::Clip clip;
  clip.id = {1};
  clip.camera = {1};
  clip.length = length;
  clip.pictures = journal::Pictures{"h264", 1920, 1080, 40ms};
  journal::Part part;
  part.path = "/footage/a b#1.mp4";
  part.length = length;
  clip.parts = {part};
  timeline.record.clips = {clip};
  timeline.record.placements = {
      {{1}, journal::Basis::audio, {{ClipTime{}, ClipTime{length}, SessionTime{10s}, rate_ppb, 1ms}}, {}, {}}};
  return timeline;
}

}  // namespace

TEST_CASE("spans are written as tags --read takes them, hostile words without running in a spreadsheet") {
  Timeline timeline = test::elevator_session();
  timeline.record.spans[0].note = "=1+1, \"quoted\"\nsecond line";
  const std::string csv = spans_csv(timeline);
  CHECK(csv.starts_with("from,to,kind,task,assembly,people,fasteners,note\r\n"));
  CHECK(contains(csv,
                 "0:04:00.000,0:38:00.000,work,Dimple elevator skin,\"Tail / Elevator, left\",Ilda Serrano,,\"'=1+1, "
                 "\"\"quoted\"\"\nsecond line\"\r\n"));
  CHECK(contains(csv, "Ilda Serrano; Bento Ayoub,MS20426AD3-3.5=46-2:driven,"));
  CHECK(contains(csv, "0:38:00.000,0:47:00.000,break,,,,,Tea\r\n"));
}

TEST_CASE("fasteners are counted by method, and against the build's plan only where the build is known") {
  Timeline timeline = test::elevator_session();
  CHECK(contains(fasteners_csv(timeline), "MS20426AD3-4,14,0,0,14,0,0,12,14,0,2\r\n"));
  timeline.build_balance.clear();
  CHECK(contains(fasteners_csv(timeline), "MS20426AD3-4,14,0,0,14,0,0,,,,\r\n"));
}

TEST_CASE("chapters give each moment to the span that began last, and join what goes on behind it") {
  const std::vector<Chapter> chapters = chapters_of(test::elevator_session());
  REQUIRE(chapters.size() == 7);
  CHECK(chapters[2].title == "Rivet elevator skin");
  CHECK(chapters[2].end == 65min);
  CHECK(chapters[3].title == "Bend and clamp trailing edge");
  CHECK(chapters[4].title == "Rivet elevator skin");
  CHECK(chapters[4].begin == 72min + 30s);
}

TEST_CASE("spans that end before they begin make no chapter") {
  Timeline timeline = test::elevator_session();
  for (journal::Span& span : timeline.record.spans) std::swap(span.begin, span.end);
  CHECK(chapters_of(timeline).empty());
}

TEST_CASE("a film's chapters begin with the film and run at its speed") {
  const auto range = SessionRange::make(test::at(1, 0), test::at(2, 0));
  const std::vector<Chapter> chapters = film_chapters(test::elevator_session(), *range, 4);
  REQUIRE(!chapters.empty());
  CHECK(chapters.front().begin == 0s);
  CHECK(chapters.front().end == 75s);  // 1:00 to 1:05 at four times the speed
  CHECK(chapters.back().end == 15min);
}

TEST_CASE("every file of every clip is told its chapters, or why it has none") {
  Timeline timeline = test::elevator_session();
  std::size_t parts = 0;
  for (const journal::Clip& clip : timeline.record.clips) parts += clip.parts.size();
  const std::vector<FileChapters> files = chapters_of_files(timeline);
  CHECK(files.size() == parts);
  for (const FileChapters& file : files) {
    CHECK(file.safe_name.find_first_of("/ ") == std::string::npos);
    CHECK(file.chapters.empty() != file.why_empty.empty());
    if (file.file == "VID_0009.mp4") CHECK(file.why_empty == "The file has no place on the session clock.");
  }
  timeline.record.spans.clear();
  timeline.record.marks.clear();
  const std::vector<FileChapters> untagged = chapters_of_files(timeline);
  CHECK(untagged.size() == parts);
  CHECK(contains(to_vtt(untagged.front()), "\nNothing was tagged or marked while this file ran.\n"));
  CHECK(chapters_of_files(test::empty_session()).empty());
}

// W3C WebVTT, "WebVTT cue text": & and < are escapes, "-->" must not stand in a line of text.
TEST_CASE("no words break out of a cue") {
  const FileChapters file{"bench", "a.mp4", "a", {{0s, 36100ms * 100, "<b>&amp; --> \n\nNOTE x"}}};
  const std::string text = to_vtt(file);
  CHECK(contains(text, "00:00:00.000 --> 01:00:10.000\n&lt;b&gt;&amp;amp; --&gt;   NOTE x\n"));
  CHECK(contains(to_vtt({"c", "f", "s", {{1ms, 1ms, ""}}}), "00:00:00.001 --> 00:00:00.002\n-\n"));
}

TEST_CASE("no words break out of a line of ffmpeg's metadata") {
  const std::string text = to_ffmetadata("a=b;c#d\\e", {{0s, 1500ms, "x\n[CHAPTER]"}});
  CHECK(contains(text, "title=a\\=b\\;c\\#d\\\\e\n"));
  CHECK(contains(text, "START=0\nEND=1500\ntitle=x [CHAPTER]\n"));
}

TEST_CASE("a calendar event folds long lines between characters and escapes what parts values") {
  Timeline timeline = test::scripts_session();
  timeline.record.session.note = std::string(30, 'x') + "鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺鷺; a, b\\c\nd";
  timeline.made = WallTime{1'773'500'000s};
  const std::string text = to_ics(timeline);
  CHECK(contains(text, "DTSTAMP:20260314T145320Z\r\n"));
  CHECK(contains(text, "\\; a\\, b\\\\c\\nd"));
  CHECK_FALSE(contains(text, "\r\n\r\n"));
}

TEST_CASE("a session whose clock nobody knows is an event of the whole day") {
  Timeline timeline = test::elevator_session();
  timeline.record.session.zero.reset();
  CHECK(contains(to_ics(timeline), "DTSTART;VALUE=DATE:20260314\r\nDTEND;VALUE=DATE:20260315\r\n"));
}

// From memory: the usual rates of cameras.
TEST_CASE("nominal picture lengths stand for the exact rates, odd ones for themselves") {
  CHECK(rate_of(33'366'667ns) == PictureRate{30000, 1001});
  CHECK(rate_of(33'333'333ns) == PictureRate{30, 1});
  CHECK(rate_of(40ms) == PictureRate{25, 1});
  CHECK(rate_of(66'666'666ns) == PictureRate{1'000'000'000, 66'666'666});
  CHECK(rate_of(0ns) == PictureRate{});
}

TEST_CASE("a clip that keeps time is one cut; one that drifts is cut before it is half a picture off") {
  CHECK(cut_list_of(one_clip(0, 3600s)).tracks.at(0).cuts.size() == 1);
  const Timeline drifting = one_clip(100'000, 3600s);  // 100 parts in a million: 20 ms in 200 s
  const std::vector<Cut> cuts = cut_list_of(drifting).tracks.at(0).cuts;
  CHECK(cuts.size() == 18);
  for (std::size_t i = 1; i < cuts.size(); ++i) CHECK(cuts[i].from == cuts[i - 1].from + cuts[i - 1].count);
}

TEST_CASE("what lies before the session's zero is cut off, and a silent camera has no track of sound") {
  Timeline timeline = one_clip(0, 60s);
  timeline.record.placements[0].pieces[0].session_start = SessionTime{-4s};
  const CutList list = cut_list_of(timeline);
  REQUIRE(list.tracks.size() == 1);
  CHECK(list.tracks[0].cuts[0].from == 0);
  CHECK(list.tracks[0].cuts[0].file_from == 100);
  CHECK(list.tracks[0].cuts[0].count == 1400);
}

TEST_CASE("the cut list names the file where it lies, as a URL") {
  CHECK(contains(to_otio(one_clip(0, 60s)), "\"file:///footage/a%20b%231.mp4\""));
}

TEST_CASE("session.json holds the entry byte for byte, so that its digest can be worked out again") {
  Timeline timeline = test::elevator_session();
  journal::Entry entry;
  entry.number = 1;
  entry.text = "note: a \xE2\x80\xAE b\n";
  entry.previous = std::string(64, '0');
  entry.digest = std::string(64, 'a');
  timeline.record.entry = entry;
  const auto json = nlohmann::json::parse(session_json(timeline));
  CHECK(json["entry"]["text"] == entry.text);
  CHECK(json["spans"].size() == 6);
  CHECK(json["hours"]["person_seconds"] == 9900.0);
}

TEST_CASE("folders of the footage do not leave the journal with the record") {
  CHECK_FALSE(contains(session_json(test::elevator_session()), "/footage"));
}
