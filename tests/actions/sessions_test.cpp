#include "actions/sessions.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

WallTime utc(int year, unsigned month, unsigned day, Length in_day) {
  return WallTime{std::chrono::sys_days{std::chrono::year{year} / static_cast<int>(month) / static_cast<int>(day)}} +
         in_day;
}

std::vector<std::string> dates(const std::vector<Timed>& recordings, const char* zone = "Europe/Lisbon") {
  std::vector<std::string> texts;
  for (const auto& dated : date_recordings(recordings, *Zone::find(zone))) {
    texts.push_back(dated ? to_text(dated->date) + (dated->clock_doubted ? " doubted" : "") : "none");
  }
  return texts;
}

using Texts = std::vector<std::string>;

}  // namespace

TEST_CASE("recordings of one day are one session, those of the next day another") {
  CHECK(dates({{0, utc(2026, 3, 14, 9h), 1h}, {1, utc(2026, 3, 14, 9h + 5min), 1h}, {0, utc(2026, 3, 15, 9h), 1h}}) ==
        Texts{"2026-03-14", "2026-03-14", "2026-03-15"});
}

TEST_CASE("a session that passes midnight keeps the date it began on") {
  CHECK(dates({{0, utc(2026, 3, 14, 23h), 1h}, {0, utc(2026, 3, 15, 5min), 1h}}) == Texts{"2026-03-14", "2026-03-14"});
}

TEST_CASE("the date is that of the journal's zone") {
  CHECK(dates({{0, utc(2026, 3, 14, 20h), 1h}}, "Pacific/Auckland") == Texts{"2026-03-15"});
}

TEST_CASE("a camera whose clock was reset goes with the other cameras and its clock is doubted") {
  CHECK(dates({{0, utc(2026, 3, 14, 9h), 2h}, {1, utc(2026, 3, 14, 9h), 30min}, {1, utc(2020, 1, 1, 10s), 30min}}) ==
        Texts{"2026-03-14", "2026-03-14", "2026-03-14 doubted"});
}

TEST_CASE("a camera nine hours off that has nothing else in the session is taken for one in the wrong zone") {
  CHECK(dates({{0, utc(2026, 3, 14, 9h), 2h}, {1, utc(2026, 3, 14, 20h), 90min}}) ==
        Texts{"2026-03-14", "2026-03-14 doubted"});
}

TEST_CASE("a second evening of the same camera is a session of its own") {
  CHECK(dates({{0, utc(2026, 3, 14, 9h), 2h}, {1, utc(2026, 3, 14, 9h), 2h}, {0, utc(2026, 3, 15, 0h + 30min), 1h}}) ==
        Texts{"2026-03-14", "2026-03-14", "2026-03-15"});
}

TEST_CASE("a recording without any clock goes where its camera's neighbours are") {
  CHECK(dates({{0, utc(2026, 3, 14, 9h), 2h}, {0, std::nullopt, 1h}}) == Texts{"2026-03-14", "2026-03-14 doubted"});
}

TEST_CASE("when no clock tells the day there is no answer") {
  CHECK(dates({{0, std::nullopt, 1h}}) == Texts{"none"});
  CHECK(dates({}) == Texts{});
}
