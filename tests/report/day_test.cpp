#include "report/day.h"

#include <doctest/doctest.h>

#include "report/sample_sessions.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;
using std::chrono::minutes;
using std::chrono::seconds;
using test::at;

namespace {

SessionRange between(SessionTime begin, SessionTime end) { return *SessionRange::make(begin, end); }

}  // namespace

TEST_CASE("each camera has a lane with its placed clips in order, numbered through all lanes") {
  const Day day = day_of(test::elevator_session());
  REQUIRE(day.cameras.size() == 3);
  CHECK(day.cameras[0].name == "bench");
  CHECK(day.cameras[0].is_reference);
  int number = 0;
  for (const CameraLane& lane : day.cameras) {
    for (const ClipBar& clip : lane.clips) CHECK(clip.number == ++number);
  }
  CHECK(number == 6);
  CHECK(day.cameras[0].clips[0].files == std::vector<std::string>{"BN_0041.MP4", "BN_0042.MP4"});
}

TEST_CASE("time between two clips of one camera is a dropout, time inside a clip is one of another kind") {
  const Day day = day_of(test::elevator_session());
  const auto& overhead = day.cameras[1].dropouts;
  REQUIRE(overhead.size() == 2);
  CHECK(overhead[0].kind == DropoutKind::between_clips);
  CHECK(overhead[0].range == between(at(1, 4, 12), at(1, 13, 50)));
  CHECK(overhead[1].kind == DropoutKind::inside_clip);
  CHECK(overhead[1].range == between(at(1, 40), at(1, 46, 30)));
  CHECK(overhead[1].clips == std::vector<int>{4});
}

TEST_CASE("a dropout beside a clip of large doubt is itself in doubt") {
  const Day day = day_of(test::elevator_session());
  CHECK(day.cameras[0].dropouts[0].doubt == Doubt::small);
  CHECK(day.cameras[2].dropouts[0].doubt == Doubt::large);
}

TEST_CASE("overlapping clips leave no dropout, and lie in rows of their own") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[1].pieces[0].session_start = at(1, 0);
  const Day day = day_of(timeline);
  CHECK(day.cameras[0].dropouts.empty());
  CHECK(day.cameras[0].clips[0].row == 0);
  CHECK(day.cameras[0].clips[1].row == 1);
}

TEST_CASE("doubt is large for a clock alone and beyond one picture, small otherwise") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[4].pieces[0].sigma = Length{1};  // by clock, however sure it claims to be
  timeline.record.placements[0].pieces[0].sigma = std::chrono::milliseconds{40};
  timeline.record.placements[1].pieces[0].sigma = std::chrono::milliseconds{41};
  const Day day = day_of(timeline);
  CHECK(day.cameras[2].clips[0].doubt == Doubt::large);
  CHECK(day.cameras[0].clips[0].doubt == Doubt::small);
  CHECK(day.cameras[0].clips[1].doubt == Doubt::large);
}

TEST_CASE("a clip without a place is listed with the reason, never drawn") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements.erase(timeline.record.placements.begin());  // never lined up
  const Day day = day_of(timeline);
  REQUIRE(day.unplaced.size() == 2);
  CHECK(day.unplaced[0].name == "BN_0041.MP4");
  CHECK(day.unplaced[0].why == "Not lined up yet.");
  CHECK(day.unplaced[1].why == "It is silent and its clock stands at a factory date.");
}

TEST_CASE("a placement whose pieces have no length, or whose basis is none, is no place") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[0].pieces[0].clip_to = timeline.record.placements[0].pieces[0].clip_from;
  timeline.record.placements[1].basis = journal::Basis::none;
  const Day day = day_of(timeline);
  CHECK(day.unplaced.size() == 3);
  CHECK(day.cameras[0].clips.empty());
}

TEST_CASE("a camera that has only an unreadable file still has its lane") {
  Timeline timeline = test::empty_session();
  timeline.known.cameras = {{{4}, "loft"}};
  timeline.record.unreadable = {{{1}, {4}, "x.mp4", "Cut off."}};
  const Day day = day_of(timeline);
  REQUIRE(day.cameras.size() == 1);
  CHECK(day.cameras[0].name == "loft");
  CHECK(day.cameras[0].clips.empty());
}

TEST_CASE("evidence is named for the two longest overlaps and counted beyond") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[0].evidence.push_back({{5}, seconds{30}, 9000, 2, 2});
  timeline.record.placements[0].evidence.push_back({{99}, minutes{70}, 9000, 2, 2});
  const Day day = day_of(timeline);
  const std::string& note = day.cameras[0].clips[0].notes.back();
  CHECK(note == "Sound in common: 1 h 10 min with a clip no longer here, 58 min with 20260314_081502.mov and 2 more.");
}

TEST_CASE("people have a row each, and breaks of everybody have theirs") {
  const Day day = day_of(test::elevator_session());
  REQUIRE(day.people.size() == 3);
  CHECK(day.people[0].name == "Ilda Serrano");
  CHECK(day.people[1].name == "Bento Ayoub");
  CHECK(day.people[1].spans.size() == 2);
  CHECK(day.people[2].name == "Everybody");
  CHECK(day.people[2].spans.size() == 2);
}

TEST_CASE("work that names nobody is shown in a row that says it counts for no hours") {
  Timeline timeline = test::elevator_session();
  timeline.record.spans[0].people.clear();
  const Day day = day_of(timeline);
  CHECK(day.people[2].name == "Nobody named");
  CHECK(day.people[2].about == "no hours");
  CHECK(day.people[2].spans[0].title == "Dimple elevator skin");
}

TEST_CASE("a span that ends before it begins is not drawn and keeps its number from the others") {
  Timeline timeline = test::elevator_session();
  timeline.record.spans[0].end = timeline.record.spans[0].begin - seconds{1};
  const Day day = day_of(timeline);
  CHECK(day.people[0].spans[0].number == 3);
}

TEST_CASE("ids that are in no register are shown in words") {
  Timeline timeline = test::elevator_session();
  timeline.known = {};
  const Day day = day_of(timeline);
  CHECK(day.cameras[0].name == "camera without a name");
  CHECK(day.people.size() == 1);  // the breaks; nobody is known
}

TEST_CASE("stacked ranges never overlap within a row and use as few rows as overlap at once") {
  const std::vector<SessionRange> ranges{between(at(0, 0), at(1, 0)), between(at(0, 10), at(0, 20)),
                                         between(at(0, 20), at(0, 30)), between(at(0, 25), at(2, 0)),
                                         between(at(1, 0), at(1, 30))};
  CHECK(stacked(ranges) == std::vector<int>{0, 1, 1, 2, 0});
  CHECK(stacked({}).empty());
}

TEST_CASE("names are cleaned before they are shown") {
  const Day day = day_of(test::hostile_session());
  CHECK(day.cameras[0].clips[0].name == "broken\xEF\xBF\xBD\xEF\xBF\xBD<b>.mp4");
  CHECK_FALSE(contains(day.cameras[1].name, "\n"));
}

TEST_CASE("a day with crowded rows wants more strips") {
  CHECK(strips_wanted(day_of(test::elevator_session())) == 3);
  CHECK(strips_wanted(day_of(test::long_day())) == 8);
  CHECK(strips_wanted(Day{}) == 3);
}
