#include "demo/tags.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::demo;
using std::chrono::seconds;

namespace {

Tag tag(int from, int to, std::string task, std::vector<std::string> people) {
  return {
      SessionTime{seconds{from}}, SessionTime{seconds{to}}, TagKind::work, std::move(task), std::move(people), {}, ""};
}

Tag pause(int from, int to, std::vector<std::string> people) {
  Tag made = tag(from, to, "", std::move(people));
  made.kind = TagKind::pause;
  return made;
}

Length worked(const HoursTruth& hours, const std::string& task, const std::string& person) {
  for (const HoursRow& row : hours.rows) {
    if (row.task == task && row.person == person) return row.worked;
  }
  return Length{0};
}

}  // namespace

TEST_CASE("a moment tagged twice for one person goes to the tag that began later") {
  const HoursTruth hours = count_hours({tag(0, 100, "rivet", {"A"}), tag(40, 60, "file", {"A"})});
  CHECK(worked(hours, "rivet", "A") == seconds{80});
  CHECK(worked(hours, "file", "A") == seconds{20});
  CHECK(hours.person_time == seconds{100});
}

TEST_CASE("of two tags that begin together the shorter one counts") {
  const HoursTruth hours = count_hours({tag(0, 100, "rivet", {"A"}), tag(0, 30, "file", {"A"})});
  CHECK(worked(hours, "file", "A") == seconds{30});
  CHECK(worked(hours, "rivet", "A") == seconds{70});
}

TEST_CASE("a pause that names nobody takes time from all, one with a name from that person only") {
  const HoursTruth all = count_hours({tag(0, 100, "rivet", {"A", "B"}), pause(50, 60, {})});
  CHECK(all.person_time == seconds{180});
  CHECK(all.elapsed == seconds{90});
  const HoursTruth one = count_hours({tag(0, 100, "rivet", {"A", "B"}), pause(50, 60, {"B"})});
  CHECK(worked(one, "rivet", "A") == seconds{100});
  CHECK(worked(one, "rivet", "B") == seconds{90});
  CHECK(one.elapsed == seconds{100});
}

TEST_CASE("no tags and tags without people give no hours") {
  CHECK(count_hours({}).rows.empty());
  CHECK(count_hours({tag(0, 100, "rivet", {})}).person_time == Length{0});
}

TEST_CASE("the full session's hours are those counted by hand") {
  const Scenario scenario = make_scenario(Size::full);
  const HoursTruth hours = count_hours(make_tags(scenario, tell(scenario)));
  CHECK(worked(hours, "Pin the upper skin to the ribs", builder_name) == seconds{75});
  CHECK(worked(hours, "Drill the skin to final size", builder_name) == seconds{75});
  // 165 to 405 and 540 to 690, when she begins to check heads; he is on the telephone for 15 s, files for 45 s, and
  // rivets on until 705.
  CHECK(worked(hours, "Rivet the upper skin", builder_name) == seconds{240 + 150});
  CHECK(worked(hours, "Rivet the upper skin", helper_name) == seconds{240 - 15 + 165 - 45});
  CHECK(worked(hours, "Deburr the trim tab brackets", helper_name) == seconds{45});
  CHECK(worked(hours, "Check the formed heads", builder_name) == seconds{105});
  CHECK(worked(hours, "Clean the skin", builder_name) == seconds{90});
  CHECK(worked(hours, "Clean the skin", helper_name) == seconds{90});
  CHECK(hours.person_time == seconds{75 + 75 + 390 + 345 + 45 + 105 + 90 + 90});
  CHECK(hours.elapsed == seconds{885 - 15 - 135});
}

TEST_CASE("tags of both sizes lie on whole seconds and count every rivet once") {
  for (const Size size : {Size::full, Size::quick}) {
    const Scenario scenario = make_scenario(size);
    const Story story = tell(scenario);
    int set = 0;
    int drilled = 0;
    for (const Tag& one : make_tags(scenario, story)) {
      CHECK(one.begin < one.end);
      CHECK(one.begin.time_since_epoch() % seconds{1} == Length{0});
      CHECK(one.end.time_since_epoch() % seconds{1} == Length{0});
      for (const FastenerCount& count : one.fasteners) {
        set += count.set;
        drilled += count.drilled;
      }
    }
    CHECK(set == static_cast<int>(story.rivets.size()));
    CHECK(drilled == 1);
  }
}

TEST_CASE("fields with commas and quotes are quoted as RFC 4180 asks") {
  Tag one = tag(5, 65, "Fit, trim", {"A", "B"});
  one.fasteners = {{"MS20426AD3-3.5", 12, 2}};
  one.note = "a \"tight\" fit";
  CHECK(to_csv({one}) ==
        "from,to,kind,task,people,fasteners,note\r\n"
        "0:00:05,0:01:05,work,\"Fit, trim\",A;B,MS20426AD3-3.5=12-2,\"a \"\"tight\"\" fit\"\r\n");
}
