#include "journal/seal.h"

#include <doctest/doctest.h>

#include <functional>
#include <set>
#include <string>

#include "base/text.h"
#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

struct Sealed {
  Build build = sample_build();
  Register known = sample_register();
  SessionRecord record = sample_record();

  std::string text() const { return canonical_text(build, known, record); }
};

struct Change {
  std::string what;
  std::function<void(Sealed&)> make;
};

const std::vector<Change>& register_changes() {
  static const std::vector<Change> changes = {
      {"build name", [](Sealed& s) { s.build.name += "x"; }},
      {"registration", [](Sealed& s) { s.build.registration += "x"; }},
      {"place", [](Sealed& s) { s.build.place += "x"; }},
      {"zone", [](Sealed& s) { s.build.zone += "x"; }},
      {"rounding", [](Sealed& s) { s.build.rounding = Rounding::minute; }},
      {"person name", [](Sealed& s) { s.known.people[1].name += "x"; }},
      {"person role", [](Sealed& s) { s.known.people[1].role = Role::hired; }},
      {"task title", [](Sealed& s) { s.known.tasks[0].title += "x"; }},
      {"task assembly", [](Sealed& s) { s.known.tasks[0].assembly = AssemblyId{1}; }},
      {"assembly name", [](Sealed& s) { s.known.assemblies[0].name += "x"; }},
      {"plan sheet", [](Sealed& s) { s.known.tasks[0].plan_sheet += "x"; }},
      {"plan step", [](Sealed& s) { s.known.tasks[0].plan_step += "x"; }},
      {"camera name", [](Sealed& s) { s.known.cameras[1].name += "x"; }},
      {"date", [](Sealed& s) { s.record.session.date = std::chrono::year{2026} / 3 / 15; }},
      {"zero", [](Sealed& s) { *s.record.session.zero += 1ns; }},
      {"who told zero", [](Sealed& s) { s.record.session.zero_fixed = false; }},
      {"no zero", [](Sealed& s) { s.record.session.zero = std::nullopt; }},
      {"reference", [](Sealed& s) { s.record.session.reference = CameraId{2}; }},
      {"no reference", [](Sealed& s) { s.record.session.reference = std::nullopt; }},
      {"session note", [](Sealed& s) { s.record.session.note += "x"; }},
  };
  return changes;
}

const std::vector<Change>& tag_changes() {
  static const std::vector<Change> changes = {
      {"span kind", [](Sealed& s) { s.record.spans[0].kind = SpanKind::pause; }},
      {"span begin", [](Sealed& s) { s.record.spans[0].begin += 1ns; }},
      {"span end", [](Sealed& s) { s.record.spans[0].end += 1ns; }},
      {"span task", [](Sealed& s) { s.record.spans[0].task = TaskId{2}; }},
      {"span person", [](Sealed& s) { s.record.spans[0].people.pop_back(); }},
      {"order of people", [](Sealed& s) { std::swap(s.record.spans[0].people[0], s.record.spans[0].people[1]); }},
      {"call-out", [](Sealed& s) { s.record.spans[0].fasteners[0].callout = "MS20426AD3-4"; }},
      {"method", [](Sealed& s) { s.record.spans[0].fasteners[0].method = Method::driven; }},
      {"set", [](Sealed& s) { ++s.record.spans[0].fasteners[0].set; }},
      {"drilled", [](Sealed& s) { ++s.record.spans[0].fasteners[0].drilled; }},
      {"fewer fasteners", [](Sealed& s) { s.record.spans[0].fasteners.pop_back(); }},
      {"span note", [](Sealed& s) { s.record.spans[0].note += "x"; }},
      {"fewer spans", [](Sealed& s) { s.record.spans.pop_back(); }},
      {"mark time", [](Sealed& s) { s.record.marks[0].at += 1ns; }},
      {"mark note", [](Sealed& s) { s.record.marks[0].note += "x"; }},
      {"no mark", [](Sealed& s) { s.record.marks.clear(); }},
      {"tie", [](Sealed& s) { s.record.ties[0].at_b += 1ns; }},
      {"tied clips", [](Sealed& s) { std::swap(s.record.ties[0].clip_a, s.record.ties[0].clip_b); }},
      {"no tie", [](Sealed& s) { s.record.ties.clear(); }},
      {"by a tie", [](Sealed& s) { s.record.placements[0].tied = true; }},
  };
  return changes;
}

Part& part(Sealed& s) { return s.record.clips[0].parts[1]; }
ClockReading& clock_reading(Sealed& s) { return part(s).clocks[0]; }
Piece& piece(Sealed& s) { return s.record.placements[0].pieces[1]; }
Evidence& evidence(Sealed& s) { return s.record.placements[0].evidence[0]; }

const std::vector<Change>& footage_changes() {
  static const std::vector<Change> changes = {
      {"clip camera", [](Sealed& s) { s.record.clips[0].camera = {2}; }},
      {"clip length", [](Sealed& s) { s.record.clips[0].length += 1ns; }},
      {"no sound", [](Sealed& s) { s.record.clips[0].sound = std::nullopt; }},
      {"sound codec", [](Sealed& s) { s.record.clips[0].sound->codec += "x"; }},
      {"sound rate", [](Sealed& s) { ++s.record.clips[0].sound->sample_rate_hz; }},
      {"sound channels", [](Sealed& s) { ++s.record.clips[0].sound->channels; }},
      {"no pictures", [](Sealed& s) { s.record.clips[0].pictures = std::nullopt; }},
      {"picture codec", [](Sealed& s) { s.record.clips[0].pictures->codec += "x"; }},
      {"picture width", [](Sealed& s) { ++s.record.clips[0].pictures->width; }},
      {"picture height", [](Sealed& s) { ++s.record.clips[0].pictures->height; }},
      {"picture length", [](Sealed& s) { s.record.clips[0].pictures->picture_length += 1ns; }},
      {"clip note", [](Sealed& s) { s.record.clips[0].notes[0] += "x"; }},
      {"part name", [](Sealed& s) { part(s).path = "/cards/one/b.mp4"; }},
      {"part size", [](Sealed& s) { ++part(s).identity.size_bytes; }},
      {"part digest", [](Sealed& s) { ++part(s).identity.digest[31]; }},
      {"part clip from", [](Sealed& s) { part(s).clip_from += 1ns; }},
      {"part length", [](Sealed& s) { part(s).length += 1ns; }},
      {"clock source", [](Sealed& s) { clock_reading(s).source = ClockSource::timecode; }},
      {"clock kind", [](Sealed& s) { clock_reading(s).kind = ClockKind::local; }},
      {"clock edge", [](Sealed& s) { clock_reading(s).edge = ClockEdge::end; }},
      {"clock value", [](Sealed& s) { clock_reading(s).since_epoch += 1ns; }},
      {"clock resolution", [](Sealed& s) { clock_reading(s).resolution += 1ns; }},
      {"clock text", [](Sealed& s) { clock_reading(s).text += "x"; }},
      {"fewer clocks", [](Sealed& s) { part(s).clocks.pop_back(); }},
      {"basis", [](Sealed& s) { s.record.placements[0].basis = Basis::manual; }},
      {"piece clip from", [](Sealed& s) { piece(s).clip_from += 1ns; }},
      {"piece clip to", [](Sealed& s) { piece(s).clip_to -= 1ns; }},
      {"piece session start", [](Sealed& s) { piece(s).session_start += 1ns; }},
      {"piece rate", [](Sealed& s) { ++piece(s).rate_ppb; }},
      {"piece doubt", [](Sealed& s) { piece(s).sigma += 1ns; }},
      {"evidence with", [](Sealed& s) { evidence(s).with = {1}; }},
      {"evidence overlap", [](Sealed& s) { evidence(s).overlap += 1ns; }},
      {"evidence score", [](Sealed& s) { ++evidence(s).score_milli; }},
      {"evidence windows", [](Sealed& s) { ++evidence(s).windows; }},
      {"evidence agreed", [](Sealed& s) { --evidence(s).agreed; }},
      {"placement note", [](Sealed& s) { s.record.placements[0].notes[0] += "x"; }},
      {"no placement", [](Sealed& s) { s.record.placements.pop_back(); }},
      {"fewer clips", [](Sealed& s) { s.record.clips.pop_back(); }},
      {"unreadable camera", [](Sealed& s) { s.record.unreadable[0].camera = {1}; }},
      {"unreadable name", [](Sealed& s) { s.record.unreadable[0].path = "/cards/two/c4.mp4"; }},
      {"unreadable reason", [](Sealed& s) { s.record.unreadable[0].why += "x"; }},
      {"clock camera", [](Sealed& s) { s.record.clocks[1].camera = {1}; }},
      {"clock offset", [](Sealed& s) { s.record.clocks[1].offset += 1ns; }},
      {"clock rate", [](Sealed& s) { ++s.record.clocks[1].rate_ppb; }},
      {"clock known", [](Sealed& s) { s.record.clocks[1].known = false; }},
  };
  return changes;
}

std::string line_with(const std::string& text, const std::string& key) {
  for (const std::string& line : split(text, '\n')) {
    if (line.rfind(key + ": ", 0) == 0) return line.substr(key.size() + 2);
  }
  return "no such line";
}

}  // namespace

TEST_CASE("changing any field of the record changes the text, each in its own way") {
  std::set<std::string> texts{Sealed{}.text()};
  for (const auto* changes : {&register_changes(), &tag_changes(), &footage_changes()}) {
    for (const Change& change : *changes) {
      Sealed sealed;
      change.make(sealed);
      CAPTURE(change.what);
      CHECK(texts.insert(sealed.text()).second);
    }
  }
}

TEST_CASE("row ids, folders, proposals and people of other sessions are not in the text") {
  const std::vector<Change> changes = {
      {"span id", [](Sealed& s) { s.record.spans[1].id = {99}; }},
      {"mark id",
       [](Sealed& s) {
         s.record.marks[0].id = {99};
         s.record.items[0].mark = MarkId{99};
         s.record.stills[0].mark = MarkId{99};
       }},
      {"part id", [](Sealed& s) { part(s).id = {99}; }},
      {"folder", [](Sealed& s) { part(s).path = "/elsewhere/a2.mp4"; }},
      {"proposals", [](Sealed& s) { s.record.proposals.clear(); }},
      {"another person",
       [](Sealed& s) {
         s.known.people.push_back({{3}, "Cy", Role::hired});
       }},
      {"another task", [](Sealed& s) { s.known.tasks[1].title += "x"; }},
  };
  for (const Change& change : changes) {
    Sealed sealed;
    change.make(sealed);
    CAPTURE(change.what);
    CHECK(sealed.text() == Sealed{}.text());
  }
}

TEST_CASE("a clip and the placement that refers to it may be renumbered together") {
  Sealed sealed;
  sealed.record.clips[1].id = {77};
  sealed.record.placements[1].clip = {77};
  sealed.record.placements[0].evidence[0].with = {77};
  sealed.record.ties[0].clip_b = {77};
  CHECK(sealed.text() == Sealed{}.text());
}

TEST_CASE("every line is a key and a value, and no key stands twice") {
  std::set<std::string> keys;
  const std::string text = Sealed{}.text();
  REQUIRE(text.back() == '\n');
  for (const std::string& line : split(text.substr(0, text.size() - 1), '\n')) {
    const std::size_t colon = line.find(": ");
    CAPTURE(line);
    REQUIRE(colon != std::string::npos);
    CHECK(keys.insert(line.substr(0, colon)).second);
  }
}

TEST_CASE("the text says in plain words who did what, when and for how long") {
  const std::string text = Sealed{}.text();
  CHECK(line_with(text, "session") == "2026-03-14");
  CHECK(line_with(text, "session zero") == "2026-03-14T08:00:00.000000005Z as the builder said");
  CHECK(line_with(text, "person 2 name") == "Bo");
  CHECK(line_with(text, "person 2 role") == "helper");
  CHECK(line_with(text, "task 1 assembly") == "Tail / Elevator, left");
  CHECK(line_with(text, "hours 2 person") == "Bo");
  CHECK(line_with(text, "hours 2 worked") == "0:40:00.000000000");
  CHECK(line_with(text, "hours elapsed") == "0:45:00.000000000");
  CHECK(line_with(text, "span 1 begin") == "0:05:00.000000000");
  CHECK(line_with(text, "span 1 fastener 1 call-out") == "MS20426AD3-4.5");
  CHECK(line_with(text, "span 1 fastener 1 set") == "31");
  CHECK(line_with(text, "clip 1 part 2 name") == "a2.mp4");
  CHECK(line_with(text, "clip 1 part 2 size") == "4294967306");
}

TEST_CASE("line ends and backslashes in notes cannot forge a line") {
  Sealed sealed;
  sealed.record.spans[0].note = "fine\nspan 1 person 1: Zed\r\\n";
  const std::string text = sealed.text();
  CHECK(line_with(text, "span 1 note") == "fine\\nspan 1 person 1: Zed\\r\\\\n");
  CHECK(line_with(text, "span 1 person 1") == "Ana");
  CHECK(text.find('\r') == std::string::npos);
}

TEST_CASE("a file name that is not UTF-8 leaves the text UTF-8") {
  Sealed sealed;
  part(sealed).path = "/cards/one/\xFF\xFE.mp4";
  CHECK(is_utf8(sealed.text()));
}

TEST_CASE("an empty session has a text") {
  SessionRecord record;
  record.session.date = std::chrono::year{2026} / 1 / 2;
  const std::string text = canonical_text({}, {}, record);
  CHECK(line_with(text, "session") == "2026-01-02");
  CHECK(line_with(text, "session zero") == "unknown");
}
