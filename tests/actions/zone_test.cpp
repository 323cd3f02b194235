#include "actions/zone.h"

#include <doctest/doctest.h>

#include "actions/clocks.h"
#include "base/text.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

Length local(int year, int month, int day, Length in_day) {
  return Length{std::chrono::sys_days{std::chrono::year{year} / month / day}.time_since_epoch()} + in_day;
}

}  // namespace

TEST_CASE("a zone that does not exist is refused with what a name looks like") {
  const auto zone = Zone::find("Europe/Nowhere");
  REQUIRE_FALSE(zone);
  CHECK(zone.error().code() == Code::invalid);
  CHECK(zone.error().message().find("AREA/CITY") != std::string::npos);
}

TEST_CASE("local time becomes UTC on either side of a clock change") {
  // IANA time-zone database: the EU changed to summer time on 2026-03-29 at 01:00 UTC.
  const Zone zone = *Zone::find("Europe/Berlin");
  CHECK(to_text(zone.to_wall(local(2026, 3, 29, 1h + 30min))) == "2026-03-29T00:30:00Z");
  CHECK(to_text(zone.to_wall(local(2026, 3, 29, 3h + 30min))) == "2026-03-29T01:30:00Z");
}

TEST_CASE("local times that exist twice or never have an answer all the same") {
  const Zone zone = *Zone::find("Europe/Berlin");
  CHECK(to_text(zone.to_wall(local(2026, 10, 25, 2h + 30min))) == "2026-10-25T00:30:00Z");
  CHECK(to_text(zone.to_wall(local(2026, 3, 29, 2h + 30min))) == "2026-03-29T01:00:00Z");
}

TEST_CASE("the next clock change is told to the second, and none where clocks are never changed") {
  // IANA time-zone database: Lisbon went back to winter time on 2026-10-25 at 01:00 UTC, Berlin at the same moment.
  const WallTime evening{local(2026, 10, 24, 22h)};
  const Zone lisbon = *Zone::find("Europe/Lisbon");
  CHECK(to_text(lisbon.next_change(evening)) == "2026-10-25T01:00:00Z");
  CHECK(lisbon.offset_at(evening) == 1h);
  CHECK(lisbon.offset_at(lisbon.next_change(evening)) == 0h);
  CHECK(Zone::find("UTC")->next_change(evening) > evening + 24h * 36500);
}

TEST_CASE("a time that clocks are set forward over is told, to the second") {
  const Zone zone = *Zone::find("Europe/Berlin");
  CHECK(!zone.skips(local(2026, 3, 29, 2h - 1s)));
  CHECK(zone.skips(local(2026, 3, 29, 2h)));
  CHECK(zone.skips(local(2026, 3, 29, 3h - 1s)));
  CHECK(!zone.skips(local(2026, 3, 29, 3h)));
  CHECK(!zone.skips(local(2026, 10, 25, 2h + 30min)));
}

TEST_CASE("a time of day takes the date that lies nearest") {
  const Zone zone = *Zone::find("UTC");
  const ClockReading reading{ClockSource::timecode, ClockKind::time_of_day, ClockEdge::begin, 23h + 59min, 40ms, ""};
  const WallTime after_midnight{local(2026, 3, 15, 2min)};
  CHECK(to_text(claim(reading, 1h, zone, after_midnight)->begin) == "2026-03-14T23:59:00Z");
  CHECK_FALSE(claim(reading, 1h, zone, std::nullopt));
}

TEST_CASE("a stamp of the end is moved back by the length of the file") {
  const Zone zone = *Zone::find("UTC");
  const ClockReading reading{ClockSource::file_time, ClockKind::utc, ClockEdge::end, local(2026, 3, 14, 10h), 2s, ""};
  CHECK(to_text(claim(reading, 20min, zone, std::nullopt)->begin) == "2026-03-14T09:40:00Z");
}

TEST_CASE("the most trusted dated reading is the best claim") {
  const Zone zone = *Zone::find("Europe/Berlin");
  const std::vector<ClockReading> readings{
      {ClockSource::timecode, ClockKind::time_of_day, ClockEdge::begin, 9h, 40ms, ""},
      {ClockSource::name, ClockKind::local, ClockEdge::begin, local(2026, 3, 14, 9h), 1s, ""},
      {ClockSource::file_time, ClockKind::utc, ClockEdge::end, local(2026, 3, 15, 9h), 1s, ""}};
  CHECK(to_text(best_claim(readings, 1h, zone)->begin) == "2026-03-14T08:00:00Z");
  CHECK_FALSE(best_claim({}, 1h, zone));
}

TEST_CASE("today is the day at the build's place, not the one in Greenwich") {
  // 25 hours lie between the two: never the same day.
  const std::chrono::sys_days east{actions::today("Pacific/Kiritimati")}, west{actions::today("Pacific/Midway")};
  CHECK((east - west).count() >= 1);
  CHECK((east - west).count() <= 2);
}

TEST_CASE("a place with an unknown zone still has a today") {
  const std::chrono::sys_days day{actions::today("No/Where")}, utc{actions::today("UTC")};
  CHECK(std::abs((day - utc).count()) <= 1);
}
