#include "media/civil.h"

#include <doctest/doctest.h>

#include <string>

using namespace jigtime;
using namespace jigtime::media;
using namespace std::chrono_literals;

TEST_CASE("stamps with a zone give the instant that RFC 3339 gives") {
  // RFC 3339 section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z.
  const auto west = parse_stamp("1996-12-19T16:39:57-08:00");
  const auto utc = parse_stamp("1996-12-20T00:39:57Z");
  REQUIRE(west);
  REQUIRE(utc);
  CHECK(west->since_epoch == utc->since_epoch);
  CHECK(west->zone_known);
  // Computed: 2026-11-25T06:00:00Z is 1,795,586,400 s after 1970.
  CHECK(parse_stamp("2026-11-25T06:00:00Z")->since_epoch == 1795586400s);
  CHECK(parse_stamp("2026-11-25T07:00:00+0100")->since_epoch == 1795586400s);
  CHECK(parse_stamp("2026-11-25T07:00:00+01")->since_epoch == 1795586400s);
}

TEST_CASE("a fraction counts and sets the resolution, a fraction of zero does not") {
  CHECK(parse_stamp("1985-04-12T23:20:50.52Z")->resolution == 10ms);
  CHECK(parse_stamp("1985-04-12T23:20:50.52Z")->since_epoch - parse_stamp("1985-04-12T23:20:50Z")->since_epoch ==
        520ms);
  CHECK(parse_stamp("2026-03-14T09:30:12.000000Z")->resolution == 1s);
}

TEST_CASE("a stamp without a zone is kept as local") {
  const auto local = parse_stamp(" 2026-03-14 09:30:12 ");
  REQUIRE(local);
  CHECK_FALSE(local->zone_known);
}

TEST_CASE("what is no date and time of the calendar is refused") {
  for (const std::string text : {"",
                                 "2026",
                                 "2026-03-14",
                                 "2026-03-14T",
                                 "2026-02-30T09:30:12Z",
                                 "2025-02-29T09:30:12Z",
                                 "2026-13-01T00:00:00Z",
                                 "2026-00-01T00:00:00Z",
                                 "2026-03-14T24:00:00Z",
                                 "2026-03-14T09:60:12Z",
                                 "2026-03-14T09:30:60Z",
                                 "1904-01-01T00:00:00Z",
                                 "1970-01-01T00:00:00Z",
                                 "2100-01-01T00:00:00Z",
                                 "2026-03-14T09:30:12.Z",
                                 "2026-03-14T09:30:12.0123456789Z",
                                 "2026-03-14T09:30:12+1500",
                                 "2026-03-14T09:30:12+01:00x",
                                 "2026-03-14T09:30:12+0",
                                 "2026/03/14 09:30:12",
                                 "26-03-14T09:30:12Z",
                                 "x2026-03-14T09:30:12Z"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_stamp(text));
  }
}

TEST_CASE("leap days exist in leap years only") {
  CHECK(since_1970({2024, 2, 29, 0, 0, 0}));
  CHECK_FALSE(since_1970({2023, 2, 29, 0, 0, 0}));
  CHECK(since_1970({2000, 2, 29, 0, 0, 0}));
}
