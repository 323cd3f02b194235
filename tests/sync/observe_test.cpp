#include "sync/observe.h"

#include <doctest/doctest.h>

#include <cmath>

#include "sync/lag_rows.h"

using namespace jigtime::sync;
using jigtime::test::LagRows;

namespace {

constexpr Line base{0, 5, 0};
constexpr LineRules rules{.about = base, .slope_reach = 100e-6};
constexpr Demand sure{7, 1.35, 4.5};
constexpr int windows = 30;

template <class LagOf>
LagMap map_of(LagRows& rows, double height, LagOf lag_of) {
  LagMap map{base, 0.99};
  for (int i = 0; i < windows; ++i) map.add(10.0 * i, rows.row(lag_of(i), height), base.lag);
  return map;
}

Segment observed(const LagMap& map) {
  const Stretch all{0, windows - 1};
  return observe(map, all, back(map, all, rules, sure));
}

}  // namespace

TEST_CASE("windows that stand out by themselves are one observation each, to a sample") {
  LagRows rows{1};
  const LagMap map = map_of(rows, 15, [](int i) { return 0.02 + 30e-6 * 10 * i; });
  const Segment segment = observed(map);
  CHECK(segment.windows == windows);
  CHECK(segment.agreed == windows);
  REQUIRE(segment.observations.size() == windows);
  for (const Observation& one : segment.observations) CHECK(std::abs(one.lag - (5.02 + 30e-6 * one.at)) < 7e-5);
  CHECK(std::abs(segment.fit.line.slope - 30e-6) < 1e-6);
  CHECK(segment.fit.spread < 1e-4);
  CHECK(segment.from == 0);
  CHECK(segment.to == 290);
}

TEST_CASE("windows of which none stands out are observed in groups") {
  LagRows rows{2};
  const LagMap map = map_of(rows, 3, [](int) { return 0.02; });
  const Segment segment = observed(map);
  CHECK(segment.observations.size() > 1);
  CHECK(segment.observations.size() < windows / 2);
  CHECK(std::abs(segment.fit.line(145) - 5.02) < 0.0001);
}

TEST_CASE("lags from all over a shop are all kept, and their spread is said") {
  LagRows rows{3};
  const LagMap map = map_of(rows, 15, [&](int) { return 0.01 + rows.uniform(-0.008, 0.008); });
  const Segment segment = observed(map);
  CHECK(segment.observations.size() > 0.9 * windows);
  // The root of the mean square of what is even over 16 ms is 16 / sqrt(12) = 4.6 ms.
  CHECK(segment.fit.spread > 0.003);
  CHECK(segment.fit.spread < 0.007);
  CHECK(std::abs(segment.fit.line(145) - 5.01) < 0.004);
}

TEST_CASE("a wild window moves nothing") {
  LagRows rows{4};
  const LagMap map = map_of(rows, 15, [](int i) { return i % 7 == 3 ? 0.4 : 0.02; });
  const Segment segment = observed(map);
  CHECK(std::abs(segment.fit.line(145) - 5.02) < 5e-5);
  CHECK(segment.agreed < windows);
}

TEST_CASE("windows off the line far beyond all others are left out, as many of them in the midst are not") {
  LagRows rows{7};
  const auto lag = [](int i) { return i < 16 || i == 29 ? (i == 29 ? 0.035 : 0.02) : 0.3; };
  const Segment far = observed(map_of(rows, 15, lag));
  CHECK(far.to == 150);
  CHECK(far.observations.back().at == 150);

  const Segment moved = observed(map_of(rows, 15, [](int i) { return i < 16 ? 0.02 : 0.026; }));
  CHECK(moved.to == 290);
}

TEST_CASE("short windows that hear several places replace what long ones heard of one") {
  LagRows rows{5};
  Segment segment = observed(map_of(rows, 15, [](int) { return 0.02; }));
  const LagMap several = map_of(rows, 15, [](int i) { return i % 2 == 0 ? 0.02 : 0.028; });
  tell_places_apart(several, segment);
  CHECK(std::abs(segment.fit.line(145) - 5.024) < 0.001);
  CHECK(segment.fit.spread > 0.003);
}

TEST_CASE("short windows that hear the one place again, or nearly nothing, change nothing") {
  LagRows rows{6};
  const Segment before = observed(map_of(rows, 15, [](int) { return 0.02; }));
  Segment segment = before;
  tell_places_apart(map_of(rows, 15, [](int) { return 0.02; }), segment);
  CHECK(segment.fit.line.lag == before.fit.line.lag);
  CHECK(segment.fit.spread == before.fit.spread);
  tell_places_apart(map_of(rows, 0, [](int) { return 0.0; }), segment);
  CHECK(segment.fit.line.lag == before.fit.line.lag);
}
