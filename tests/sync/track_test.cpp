#include "sync/track.h"

#include <doctest/doctest.h>

#include "sync/lag_rows.h"

using namespace jigtime::sync;
using jigtime::test::LagRows;

namespace {

constexpr Line base{0, 0, 0};

template <class LagOf>
LagMap map_of(int windows, double height, LagOf lag_of) {
  LagRows rows{7};
  LagMap map{base, 0.99};
  for (int i = 0; i < windows; ++i) map.add(10.0 * i, rows.row(lag_of(i), height), base.lag);
  return map;
}

}  // namespace

TEST_CASE("a lag that stays is one run over all windows") {
  const auto runs = follow(map_of(30, 12, [](int) { return 0.004; }), base, {});
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].windows.first == 0);
  CHECK(runs[0].windows.last == 29);
  CHECK(std::abs(runs[0].line(150) - 0.004) < 0.007);
}

TEST_CASE("a jump of 0.4 s that stays makes two runs that meet where it is") {
  const auto runs = follow(map_of(30, 12, [](int i) { return i < 12 ? 0.0 : 0.4; }), base, {});
  REQUIRE(runs.size() == 2);
  CHECK(runs[0].windows.last == 11);
  CHECK(runs[1].windows.first >= 12);
  CHECK(runs[1].windows.first <= 13);
  CHECK(std::abs(runs[1].line(200) - 0.4) < 0.007);
}

TEST_CASE("sounds from all over a shop are no jumps") {
  LagRows dice{8};
  const auto runs = follow(map_of(30, 12, [&](int) { return dice.uniform(-0.01, 0.01); }), base, {});
  CHECK(runs.size() == 1);
}

TEST_CASE("two windows that happen to agree elsewhere are no jump") {
  const auto runs = follow(map_of(30, 12, [](int i) { return i == 14 || i == 15 ? -0.3 : 0.0; }), base, {});
  CHECK(runs.size() == 1);
}

TEST_CASE("noise has no run of any length, and no windows have none") {
  for (const Run& run : follow(map_of(30, 0, [](int) { return 0.0; }), base, {})) CHECK(run.windows.count() <= 4);
  CHECK(follow(LagMap{base, 0.99}, base, {}).empty());
}
