#include "media/timecode.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace jigtime;
using namespace jigtime::media;
using namespace std::chrono_literals;

namespace {

struct Row {
  std::int64_t frame;
  const char* drop_frame;
  const char* non_drop;
  double seconds;
};

// SMPTE ST 12-1 drop-frame at 30000/1001, from the rule (2 labels a minute, but every tenth); frames 10789 to 17983,
// 107892, 1078920 and 1084319 are also checked in the tests of an open timeline library, the rest is computed.
constexpr Row rows[] = {
    {0, "00:00:00;00", "00:00:00:00", 0},
    {1799, "00:00:59;29", "00:00:59:29", 60.026633},
    {1800, "00:01:00;02", "00:01:00:00", 60.06},
    {3597, "00:01:59;29", "00:01:59:27", 120.0199},
    {3598, "00:02:00;02", "00:01:59:28", 120.053267},
    {10789, "00:05:59;29", "00:05:59:19", 359.992967},
    {10790, "00:06:00;02", "00:05:59:20", 360.026333},
    {17981, "00:09:59;29", "00:09:59:11", 599.966033},
    {17982, "00:10:00;00", "00:09:59:12", 599.9994},
    {17983, "00:10:00;01", "00:09:59:13", 600.032767},
    {107892, "01:00:00;00", "00:59:56:12", 3599.9964},
    {1078920, "10:00:00;00", "09:59:24:00", 35999.964},
    {1084319, "10:03:00;05", "10:02:23:29", 36180.110633},
    {2589407, "23:59:59;29", "23:58:33:17", 86399.880233},
};

}  // namespace

TEST_CASE("labels count frames as SMPTE ST 12-1 does") {
  for (const Row& row : rows) {
    CAPTURE(row.drop_frame);
    const auto drop = parse_timecode(row.drop_frame);
    const auto plain = parse_timecode(row.non_drop);
    REQUIRE(drop);
    REQUIRE(plain);
    CHECK(drop->count == FrameCount::drop_frame);
    CHECK(plain->count == FrameCount::non_drop);
    CHECK(frame_number(*drop, 30) == row.frame);
    CHECK(frame_number(*plain, 30) == row.frame);
    CHECK(std::abs(to_seconds(*time_of_day(*drop, 30000, 1001)) - row.seconds) < 1e-6);
  }
}

TEST_CASE("at 59.94 four labels a minute are left out") {
  CHECK(frame_number(*parse_timecode("00:00:59;59"), 60) == 3599);
  CHECK(frame_number(*parse_timecode("00:01:00;04"), 60) == 3600);
  CHECK(frame_number(*parse_timecode("00:10:00;00"), 60) == 35964);
  CHECK(frame_number(*parse_timecode("01:00:00;00"), 60) == 215784);
  CHECK_FALSE(frame_number(*parse_timecode("00:01:00;03"), 60));
}

TEST_CASE("labels that drop-frame leaves out do not exist") {
  CHECK_FALSE(frame_number(*parse_timecode("00:01:00;00"), 30));
  CHECK_FALSE(frame_number(*parse_timecode("00:01:00;01"), 30));
  CHECK(frame_number(*parse_timecode("00:10:00;01"), 30));
  CHECK(frame_number(*parse_timecode("00:01:00:00"), 30));
}

TEST_CASE("drop-frame exists at 30 and 60 only") {
  CHECK_FALSE(frame_number(*parse_timecode("00:00:01;00"), 25));
  CHECK_FALSE(frame_number(*parse_timecode("00:00:01;00"), 24));
}

TEST_CASE("a plain label is the time of day as it stands") {
  CHECK(time_of_day(*parse_timecode("09:30:00:00"), 30000, 1001) == 9h + 30min);
  CHECK(time_of_day(*parse_timecode("09:30:00:12"), 25, 1) == 9h + 30min + 480ms);
}

TEST_CASE("what is no timecode is refused") {
  for (const std::string text : {"", "09:30:00", "9:30:00:00", "24:00:00:00", "09:60:00:00", "09:30:60:00",
                                 "09:30:00/00", "09-30-00-00", "aa:bb:cc:dd", "09:30:00:0x", "09:30:00:000"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_timecode(text));
  }
  CHECK_FALSE(frame_number(*parse_timecode("09:30:00:25"), 25));
  CHECK_FALSE(time_of_day(*parse_timecode("09:30:00:00"), 0, 1));
}
