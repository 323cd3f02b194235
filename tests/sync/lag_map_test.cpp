#include "sync/lag_map.h"

#include <doctest/doctest.h>

#include "sync/lag_rows.h"

using namespace jigtime::sync;
using jigtime::test::LagRows;

namespace {

constexpr Line base{0, 5, 0};
constexpr LineRules rules{.about = base, .slope_reach = 100e-6};
constexpr Demand sure{7, 1.35, 4.5};

/// Twenty windows, ten seconds apart; `lag_of` gives each one's offset from the base.
template <class LagOf>
LagMap map_of(LagRows& rows, double height, LagOf lag_of) {
  LagMap map{base, 0.99};
  for (int i = 0; i < 20; ++i) map.add(10.0 * i, rows.row(lag_of(i), height), base.lag);
  return map;
}

}  // namespace

TEST_CASE("peaks that no window shows clearly add up along their line") {
  LagRows rows{1};
  const double slope = 40e-6;
  const LagMap map = map_of(rows, 3, [&](int i) { return 0.02 + slope * (10.0 * i - 95); });
  const Backing sharp = sharp_line(map, {0, 19}, rules);
  CHECK(holds(sharp, sure));
  CHECK(std::abs(sharp.line(95) - 5.02) < 0.0001);
  CHECK(std::abs(sharp.line.slope - slope) < 2e-6);
}

TEST_CASE("lags that differ from window to window as in a shop stand out in the blurred sum only") {
  LagRows rows{2};
  const LagMap map = map_of(rows, 9, [&](int) { return 0.01 + rows.uniform(-0.006, 0.006); });
  CHECK(!holds(sharp_line(map, {0, 19}, rules), sure));
  const Backing blurred = blurred_line(map, {0, 19}, rules);
  CHECK(holds(blurred, sure));
  CHECK(std::abs(blurred.line(95) - 5.01) < 0.006);
}

TEST_CASE("noise proves nothing, whatever its numbers") {
  for (unsigned number = 10; number < 30; ++number) {
    LagRows rows{number};
    const LagMap map = map_of(rows, 0, [](int) { return 0.0; });
    CAPTURE(number);
    CHECK(!back(map, {0, 19}, rules, sure).any());
  }
}

TEST_CASE("one event alone is no proof, however high") {
  LagRows rows{3};
  LagMap map{base, 0.99};
  for (int i = 0; i < 20; ++i) map.add(10.0 * i, rows.row(0.01, i == 7 ? 200 : 0), base.lag);
  CHECK(!back(map, {0, 19}, rules, sure).any());
}

TEST_CASE("a comb of equal peaks is no proof: lines that cannot be true stand as high") {
  LagRows rows{4};
  LagMap map{base, 0.99};
  for (int i = 0; i < 20; ++i) {
    std::vector<float> values = rows.row(0, 0);
    for (double lag = -0.96; lag < 0.97; lag += 0.04) {
      values[static_cast<std::size_t>(LagRows::half + std::lround(lag * sample_rate_hz))] += 12;
    }
    map.add(10.0 * i, values, base.lag);
  }
  CHECK(!back(map, {0, 19}, rules, sure).any());
}

TEST_CASE("a window in which nothing was heard is left out, and order does not matter") {
  LagRows rows{5};
  LagMap map{base, 0.99};
  map.add(30, rows.row(0, 9), base.lag);
  map.add(20, std::vector<float>(2 * LagRows::half + 1, 0.0f), base.lag);
  map.add(10, rows.row(0, 9), base.lag);
  REQUIRE(map.windows() == 2);
  CHECK(map.time(0) == 10);
  CHECK(map.time(1) == 30);
}

TEST_CASE("the highest sample is found within its reach and nothing outside the samples that are kept") {
  LagRows rows{6};
  LagMap map{base, 0.99};
  map.add(0, rows.row(0.05, 30), base.lag);
  const LagPeak near = map.highest(0, 5.045, 0.01);
  CHECK(std::abs(near.lag - 5.05) < 0.0001);
  CHECK(near.z == doctest::Approx(30).epsilon(0.1));
  CHECK(map.highest(0, 5.0, 0.01).z < 6);
  CHECK(map.highest(0, 7.0, 0.01).z == 0);
}
