#include "actions/tally.h"

#include <doctest/doctest.h>

#include "actions/sealing.h"
#include "actions/shelf.h"
#include "actions/shop.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

HoursTable hours(const TaggedDesk& desk, By by) {
  const auto table = tally_hours(desk.store, {by, std::nullopt, std::nullopt});
  REQUIRE(table);
  return *table;
}

/// Every session by itself, as the whole record has it.
HoursTable one_by_one(const TaggedDesk& desk) {
  HoursTable table;
  const auto records = records_between(desk.store, std::nullopt, std::nullopt);
  REQUIRE(records);
  for (const journal::SessionRecord& record : *records) {
    const journal::Hours counted = journal::count_hours(record);
    table.person_time += counted.person_time;
    table.elapsed += counted.elapsed;
    table.untagged += counted.untagged;
    table.unfilmed += counted.unfilmed;
  }
  return table;
}

}  // namespace

TEST_CASE("hours by month, person, role, task and session each add up to the same person-hours") {
  TaggedDesk desk;
  desk.tag(0min, 60min, "Rivet", {"Mara", "Bo"});
  desk.tag(30min, 90min, "Deburr", {"Mara"});
  desk.session = desk.add_session(2026, 4, 2);
  desk.tag(0min, 20min, "Rivet", {"Mara"});
  desk.session = desk.add_session(2026, 4, 9);
  desk.tag(5min, 20min, "Prime", {"Bo"});
  for (const By by : {By::everything, By::task, By::assembly, By::person, By::role, By::session, By::month}) {
    const HoursTable table = hours(desk, by);
    CHECK(table.person_time == 185min);
    CHECK(table.elapsed == 125min);
    CHECK(table.unfilmed == 125min);
    Length sum{0};
    for (const HoursLine& line : table.lines) sum += line.worked;
    CHECK(sum == 185min);
  }
  const HoursTable months = hours(desk, By::month);
  REQUIRE(months.lines.size() == 2);
  CHECK(months.lines[0].month == "2026-03");
  CHECK(months.lines[0].worked == 150min);
  CHECK(months.lines[1].month == "2026-04");
  CHECK(months.lines[1].worked == 35min);
  CHECK(hours(desk, By::session).lines[2].session == "2026-04-09");
}

TEST_CASE("an assembly's time counts for every assembly above it too") {
  TaggedDesk desk;
  REQUIRE(add_task(desk.store, {"Rivet", "Tail / Elevator", "", "", {}}));
  REQUIRE(add_task(desk.store, {"Fit", "Tail", "", "", {}}));
  desk.tag(0min, 60min, "Rivet", {"Mara"});
  desk.tag(60min, 70min, "Fit", {"Mara"});
  desk.tag(70min, 75min, "Sweep", {"Mara"});
  const HoursTable table = hours(desk, By::assembly);
  REQUIRE(table.with_parts.size() == 2);
  CHECK(table.with_parts[0].assembly == "Tail");
  CHECK(table.with_parts[0].worked == 70min);
  CHECK(table.with_parts[1].assembly == "Tail / Elevator");
  CHECK(table.with_parts[1].worked == 60min);
  CHECK(hours(desk, By::task).with_parts.empty());
}

TEST_CASE("somebody who was merged counts once, in sealed sessions too") {
  TaggedDesk desk;
  desk.tag(0min, 60min, "Rivet", {"Mara"});
  desk.tag(0min, 60min, "Rivet", {"M. Lind"});
  REQUIRE(seal_session(desk.store, desk.session, {}));
  CHECK(hours(desk, By::person).person_time == 120min);
  REQUIRE(merge(desk.store, Shelved::person, "M. Lind", "Mara"));
  const HoursTable table = hours(desk, By::person);
  CHECK(table.person_time == 60min);
  REQUIRE(table.lines.size() == 1);
  CHECK(table.lines[0].person == "Mara");
}

TEST_CASE("the quick way to the hours gives what the whole records give") {
  TaggedDesk desk;
  desk.tag(0min, 60min, "Rivet", {"Mara", "Bo"});
  const Done done = desk.store.edit("film", [&](store::Edit& edit) -> Done {
    const auto camera = edit.add(journal::Camera{{}, "bench"});
    if (!camera) return camera.error();
    for (const Length begin : {10min, 50min}) {
      journal::Clip clip;
      clip.session = desk.session;
      clip.camera = *camera;
      clip.parts.resize(1);
      clip.parts[0].path = "/a.mp4";
      clip.length = 30min;
      const auto added = edit.add(clip);
      if (!added) return added.error();
      const Piece piece{ClipTime{}, ClipTime{30min}, SessionTime{begin}, 100'000, 1ms};
      if (Done placed = edit.set_placement({*added, journal::Basis::manual, {piece}, {}, {}}); !placed) return placed;
    }
    return {};
  });
  REQUIRE(done);
  REQUIRE(add_off_camera(desk.store, {std::chrono::year{2026} / 3 / 14, 40min, std::nullopt, [] {
                                        SpanWords words;
                                        words.task = "Prime";
                                        words.people = {"Bo"};
                                        return words;
                                      }()}));
  const HoursTable whole = one_by_one(desk);
  const HoursTable quick = hours(desk, By::everything);
  CHECK(quick.person_time == whole.person_time);
  CHECK(quick.elapsed == whole.elapsed);
  CHECK(quick.untagged == whole.untagged);
  CHECK(quick.unfilmed == whole.unfilmed);
  CHECK(whole.untagged > 20min);
}

TEST_CASE("only the days asked for are counted, and a first day behind the last is refused") {
  TaggedDesk desk;
  desk.tag(0min, 60min, "Rivet", {"Mara"});
  const auto march = std::chrono::year{2026} / 3 / 14;
  CHECK(tally_hours(desk.store, {By::task, march, march})->person_time == 60min);
  CHECK(tally_hours(desk.store, {By::task, std::chrono::year{2026} / 3 / 15, std::nullopt})->person_time == 0min);
  CHECK(holds(said(tally_hours(desk.store, {By::task, std::chrono::year{2026} / 3 / 15, march})), "invalid: "));
  CHECK(parse_by("month") == By::month);
  CHECK(!parse_by("week"));
}
