#include "base/time.h"

#include <doctest/doctest.h>

#include <limits>
#include <type_traits>

using namespace jigtime;
using namespace std::chrono_literals;

static_assert(!std::is_convertible_v<ClipTime, SessionTime>);
static_assert(!std::is_constructible_v<SessionTime, ClipTime>);
static_assert(!std::is_constructible_v<WallTime, SessionTime>);

TEST_CASE("a range that is empty or reversed cannot be made") {
  CHECK_FALSE(SessionRange::make(SessionTime{2s}, SessionTime{2s}));
  CHECK_FALSE(SessionRange::make(SessionTime{3s}, SessionTime{2s}));
  CHECK(SessionRange::make(SessionTime{2s}, SessionTime{3s})->length() == 1s);
}

TEST_CASE("a range holds its begin and not its end") {
  const auto range = *SessionRange::make(SessionTime{2s}, SessionTime{3s});
  CHECK(range.contains(SessionTime{2s}));
  CHECK_FALSE(range.contains(SessionTime{3s}));
}

TEST_CASE("ranges that only touch do not overlap") {
  const auto a = *SessionRange::make(SessionTime{1s}, SessionTime{2s});
  const auto b = *SessionRange::make(SessionTime{2s}, SessionTime{3s});
  CHECK_FALSE(a.overlaps(b));
  CHECK_FALSE(a.intersection(b));
  const auto c = *SessionRange::make(SessionTime{1500ms}, SessionTime{3s});
  CHECK(a.intersection(c)->length() == 500ms);
}

TEST_CASE("seconds become the nearest nanosecond, also ten hours in") {
  CHECK(from_seconds(0.1) == 100ms);
  CHECK(from_seconds(-0.25) == -250ms);
  CHECK(from_seconds(36000.123456789) == 36000s + Length{123456789});
}

TEST_CASE("seconds from a broken file are clamped and never overflow") {
  CHECK(from_seconds(std::numeric_limits<double>::infinity()) == farthest);
  CHECK(from_seconds(-1e300) == -farthest);
  CHECK(from_seconds(std::numeric_limits<double>::quiet_NaN()) == 0ns);
}

TEST_CASE("scaling rounds half away from zero and survives products beyond 64 bits") {
  CHECK(scaled(5, 1, 2) == 3);
  CHECK(scaled(-5, 1, 2) == -3);
  CHECK(scaled(4, 1, 3) == 1);
  CHECK(scaled(std::numeric_limits<std::int64_t>::max(), 90'000, 90'000) == std::numeric_limits<std::int64_t>::max());
  CHECK(scaled(std::numeric_limits<std::int64_t>::max(), 2, 1) == std::numeric_limits<std::int64_t>::max());
  CHECK(scaled(std::numeric_limits<std::int64_t>::min(), 2, 1) == std::numeric_limits<std::int64_t>::min());
}

TEST_CASE("picture n at 30000/1001 a second, computed from n, is exact after ten hours") {
  // 10 h of such pictures are 1,078,921; summing rounded lengths would be 0.36 ms off by then.
  const std::int64_t n = 1'078'921;
  CHECK(scaled(n, 1'001'000'000'000, 30'000) == 35'999'997'366'667);
}

TEST_CASE("a length with few decimals is the very number that people write") {
  CHECK(to_seconds(30s + 500ms) == 30.5);
  CHECK(to_seconds(12s + 345'678us) == 12.345678);
}
