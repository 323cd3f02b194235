#include "sync/common_slope.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <span>
#include <vector>

using namespace jigtime::sync;

namespace {

/// Windows every six seconds; the sound comes from one place for a minute, then from the next along the bench.
std::vector<Observation> along_the_bench(double slope, double step, double noise, unsigned number) {
  std::mt19937 dice{number};
  std::normal_distribution<double> normal;
  std::vector<Observation> seen;
  for (int i = 0; i < 60; ++i) {
    const double t = 6.0 * i;
    seen.push_back({t, slope * t + step * std::floor(t / 60) + noise * normal(dice), 1});
  }
  return seen;
}

}  // namespace

TEST_CASE("the clocks' slope is found though the work moves along the bench") {
  for (unsigned number = 1; number <= 10; ++number) {
    const double slope = -90e-6 + 18e-6 * number;
    const CommonSlope common = common_slope(along_the_bench(slope, -0.0025, 3e-5, number));
    CAPTURE(number);
    // A straight line through all of it would be 42 ppm off.
    CHECK(std::abs(common.slope - slope) < 2e-6);
    CHECK(common.sigma < 5e-6);
    CHECK(common.spread > 0.003);
  }
}

TEST_CASE("one place gives the slope of its line, as least squares does") {
  const CommonSlope common = common_slope(along_the_bench(35e-6, 0, 5e-5, 3));
  CHECK(std::abs(common.slope - 35e-6) < 0.5e-6);
  CHECK(common.spread < 1e-4);
}

TEST_CASE("a third of wild lags does not move the slope") {
  std::vector<Observation> seen = along_the_bench(20e-6, 0, 5e-5, 4);
  std::mt19937 dice{5};
  std::uniform_real_distribution<double> wild{-0.02, 0.02};
  for (std::size_t i = 0; i < seen.size(); i += 3) seen[i].lag += wild(dice);
  CHECK(std::abs(common_slope(seen).slope - 20e-6) < 2e-6);
}

TEST_CASE("a few sounds from all over the shop with long silences between them give the slope") {
  for (unsigned number = 1; number <= 20; ++number) {
    std::mt19937 dice{number};
    std::normal_distribution<double> noise{0, 0.0005};
    std::uniform_int_distribution<std::size_t> place{0, 4};
    std::uniform_real_distribution<double> silence{40, 200}, window{3, 6};
    const std::array<double, 5> ways{0.0067, -0.0052, 0.0028, 0.0091, -0.0007};
    const double slope = 160e-6 - 15e-6 * number;
    std::vector<Observation> seen;
    for (double t = 100; t < 1400; t += silence(dice)) {
      for (int i = 0; i < 4; ++i, t += window(dice))
        seen.push_back({t, slope * t + ways.at(place(dice)) + noise(dice), 1});
    }
    const CommonSlope common = common_slope(seen);
    CAPTURE(number);
    // The ways alone could be taken for a rate of tens of ppm between one sound and the next.
    CHECK(std::abs(common.slope - slope) < 6e-6);
    CHECK(std::abs(common.slope - slope) < 4 * common.sigma);
  }
}

TEST_CASE("one observation knows no slope and says so") {
  const CommonSlope common = common_slope(std::vector<Observation>{{10, 3, 1}});
  CHECK(common.slope == 0);
  CHECK(common.sigma > 50e-6);
  CHECK(common.spread == 0);
}

TEST_CASE("a slope that is known is told again, and that of another stretch or pair is its own") {
  const std::vector<Observation> seen = along_the_bench(20e-6, -0.0025, 5e-5, 6);
  const std::span<const Observation> all{seen};
  KnownSlopes known;
  for (int twice = 0; twice < 2; ++twice) {
    CHECK(known.of(3, all).slope == common_slope(all).slope);
    CHECK(known.of(3, all.first(30)).slope == common_slope(all.first(30)).slope);
    CHECK(known.of(3, all.last(30)).sigma == common_slope(all.last(30)).sigma);
  }
  const std::vector<Observation> other = along_the_bench(-70e-6, 0, 5e-5, 7);
  CHECK(known.of(4, other).slope == common_slope(other).slope);
  CHECK_THROWS(known.of(5, {}));
}
