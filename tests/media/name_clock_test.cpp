#include <doctest/doctest.h>

#include <string>

#include "media/civil.h"
#include "media/probe.h"

using namespace jigtime;
using namespace jigtime::media;
using namespace std::chrono_literals;

namespace {

const Length morning = *since_1970({2026, 3, 14, 9, 30, 12});

}  // namespace

TEST_CASE("names as cameras write them give local date and time") {
  for (const std::string name :
       {"20260314_093012.mp4", "2026-03-14 09.30.12.mov", "2026-03-14T09-30-12.mkv", "VID_20260314_093012.mp4",
        "MOV_20260314-093012.mov", "IMG_20260314_093012_1.mp4", "2026_03_14_09_30_12.avi", "20260314093012.mts",
        "clip 2026-03-14 at 09.30.12.mp4", "2026.03.14-09.30.12.mp4", "2026-03-14_09h30m12s.mp4",
        "bench-2026-03-14_-_09-30-12.mp4", "2026-03-14, 09.30.12.mp4", "C0042_20260314T093012.mp4",
        "7_20260314_093012.mp4", "VID_20260314_093012(2).mp4"}) {
    CAPTURE(name);
    const std::optional<ClockReading> reading = clock_in_name(name);
    REQUIRE(reading);
    CHECK(reading->source == ClockSource::name);
    CHECK(reading->kind == ClockKind::local);
    CHECK(reading->edge == ClockEdge::begin);
    CHECK(reading->since_epoch == morning);
    CHECK(reading->resolution == 1s);
    CHECK(name.find(reading->text) != std::string::npos);
  }
}

TEST_CASE("thousandths in a name count") {
  for (const std::string name :
       {"VID_20260314_093012345.mp4", "2026-03-14T09-30-12.345.mp4", "20260314093012_345.mp4"}) {
    CAPTURE(name);
    const std::optional<ClockReading> reading = clock_in_name(name);
    REQUIRE(reading);
    CHECK(reading->since_epoch == morning + 345ms);
    CHECK(reading->resolution == 1ms);
  }
}

TEST_CASE("a Z behind the time says UTC") {
  CHECK(clock_in_name("2026-03-14T09-30-12Z.mp4")->kind == ClockKind::utc);
  CHECK(clock_in_name("20260314T093012Z.mp4")->kind == ClockKind::utc);
}

TEST_CASE("the first date that exists is taken") {
  const std::optional<ClockReading> reading = clock_in_name("20269914_093012_20260314_093012.mp4");
  REQUIRE(reading);
  CHECK(reading->since_epoch == morning);
}

TEST_CASE("near misses give no reading") {
  for (const std::string name : {"",
                                 "a.mp4",
                                 "IMG_0042.MOV",
                                 "20260314.mp4",
                                 "2026-03-14.mp4",
                                 "IMG-20260314-0001.mp4",
                                 "20260314_0930.mp4",
                                 "20260230_093012.mp4",
                                 "20250229_093012.mp4",
                                 "20261314_093012.mp4",
                                 "20260300_093012.mp4",
                                 "20260314_243012.mp4",
                                 "20260314_096012.mp4",
                                 "20260314_093060.mp4",
                                 "12345678_093012.mp4",
                                 "19700101_000000.mp4",
                                 "19040101_000000.mp4",
                                 "120260314_093012.mp4",
                                 "20260314_0930123.mp4",
                                 "20260314_09301234567.mp4",
                                 "2026-0314_093012.mp4",
                                 "2026-03_14 09.30.12.mp4",
                                 "14-03-2026 09.30.12.mp4",
                                 "2026-03-14 09.30-12.mp4",
                                 "1773480612000.mp4",
                                 "20260314x093012.mp4",
                                 "2026031409301.mp4",
                                 "202603140930123.mp4"}) {
    CAPTURE(name);
    CHECK_FALSE(clock_in_name(name));
  }
}

TEST_CASE("names of arbitrary bytes are read without harm") {
  const std::string odd{"\xff\xfe\x00 20260314_09", 16};
  CHECK_FALSE(clock_in_name(odd));
  CHECK(clock_in_name(std::string{"\xff"} + "20260314_093012" + "\xff"));
}
