#include "sync/candidates.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace jigtime::sync;

namespace {

/// Blocks of two minutes; each has a true vote on a line and chance votes elsewhere.
std::vector<std::vector<Vote>> votes(int blocks, double lag, double slope, double z, unsigned number = 1) {
  std::mt19937 dice{number};
  std::uniform_real_distribution<double> anywhere{-3000, 3000}, low{3.9, 5};
  std::vector<std::vector<Vote>> all;
  for (int i = 0; i < blocks; ++i) {
    const double at = 60 + 120.0 * i;
    std::vector<Vote> block;
    if (z > 0) block.push_back({at, lag + slope * at, z});
    for (int n = 0; n < 5; ++n) block.push_back({at, anywhere(dice), low(dice)});
    all.push_back(block);
  }
  return all;
}

}  // namespace

TEST_CASE("blocks that agree on a line outdo higher votes that stand alone") {
  for (const double slope : {0.0, 150e-6, -150e-6}) {
    auto all = votes(10, 42, slope, 4.5);
    all[3].push_back({420, -900, 9});
    const auto found = gather(all, 6);
    REQUIRE(!found.empty());
    CHECK(std::abs(found[0].line(600) - (42 + slope * 600)) < 0.02);
    CHECK(found[0].blocks == 10);
    CHECK(found[0].score == doctest::Approx(4.5 * std::sqrt(10.0)).epsilon(0.01));
  }
}

TEST_CASE("two places as good as each other are both candidates") {
  auto all = votes(6, 42, 0, 6);
  for (auto& block : all) block.push_back({block[0].at, 142, 6});
  const auto found = gather(all, 6);
  REQUIRE(found.size() >= 2);
  CHECK(std::abs(found[0].score - found[1].score) < 0.1);
  CHECK(std::abs(std::abs(found[0].line(300) - found[1].line(300)) - 100) < 0.1);
}

TEST_CASE("no two candidates are the same place, and they come best first") {
  const auto found = gather(votes(8, 42, 0, 7), 6);
  CHECK(found.size() <= 6);
  for (std::size_t i = 1; i < found.size(); ++i) CHECK(found[i].score <= found[i - 1].score);
  for (std::size_t i = 1; i < found.size(); ++i) CHECK(std::abs(found[i].line(420) - 42) > 0.1);
}

TEST_CASE("votes below what counts, and none at all, give no candidate") {
  CHECK(gather({}, 6).empty());
  CHECK(gather({{}, {}}, 6).empty());
  CHECK(gather({{{60, 5, 3.5}}, {{180, 5, 3.7}}}, 6).empty());
}
