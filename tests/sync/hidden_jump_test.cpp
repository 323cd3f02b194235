#include "sync/hidden_jump.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace jigtime::sync;

namespace {

struct Seen {
  int count = 40;
  double slope = 30e-6;
  double jump = 0;       ///< seconds, behind jump_at
  double jump_at = 200;  ///< seconds
  double scatter = 0.0003;
  double bend = 0;  ///< of the slope, per second
  unsigned number = 1;
};

std::vector<Observation> seen(const Seen& wanted) {
  std::mt19937 dice{wanted.number};
  std::normal_distribution<double> off{0, wanted.scatter};
  std::vector<Observation> all;
  for (int i = 0; i < wanted.count; ++i) {
    const double t = 10.0 * i;
    const double jumped = t > wanted.jump_at ? wanted.jump : 0;
    all.push_back({t, 7 + wanted.slope * t + wanted.bend * t * t / 2 + jumped + off(dice), 1});
  }
  return all;
}

}  // namespace

TEST_CASE("a jump of two pictures is found with its place, size and slope") {
  for (const double jump : {0.040, -0.040, 0.033}) {
    const auto found = hidden_jump(seen({.jump = jump}));
    REQUIRE(found.has_value());
    CHECK(std::abs(found->at - 205) <= 5);
    CHECK(std::abs(found->after(found->at) - found->before(found->at) - jump) < 0.001);
    CHECK(std::abs(found->before.slope - 30e-6) < 5e-6);
    CHECK(found->before.slope == found->after.slope);
  }
}

TEST_CASE("windows near the jump that show luck do not hide it") {
  auto all = seen({.jump = -0.041});
  for (const std::size_t i : {17U, 18U, 19U, 20U}) all[i].lag -= 0.018;
  const auto found = hidden_jump(all);
  REQUIRE(found.has_value());
  CHECK(std::abs(found->after(found->at) - found->before(found->at) + 0.041) < 0.002);
}

TEST_CASE("one line has no jump in it, at any slope two cameras can have") {
  for (const double slope : {0.0, 100e-6, -200e-6}) {
    for (unsigned number = 1; number <= 50; ++number) {
      CHECK(!hidden_jump(seen({.slope = slope, .number = number})));
    }
  }
}

TEST_CASE("sounds from all over a shop are no jump") {
  for (unsigned number = 1; number <= 200; ++number) CHECK(!hidden_jump(seen({.scatter = 0.006, .number = number})));
}

TEST_CASE("a camera that warms by 20 ppm in an hour bends the line and does not break it") {
  CHECK(!hidden_jump(seen({.count = 360, .jump_at = 1e9, .bend = 20e-6 / 3600})));
}

TEST_CASE("a jump below what a shop's size explains is left alone") { CHECK(!hidden_jump(seen({.jump = 0.015}))); }

TEST_CASE("too few windows on one side are no jump") {
  CHECK(!hidden_jump(seen({.jump = 0.04, .jump_at = 365})));
  CHECK(!hidden_jump(seen({.count = 8, .jump = 0.04, .jump_at = 35})));
  CHECK(!hidden_jump({}));
}
