#include "sync/joins.h"

#include <doctest/doctest.h>

#include "match.h"

using namespace jigtime;
using namespace jigtime::sync;

namespace {

using Splits = std::vector<std::vector<Split>>;

ClipInput recording(std::vector<double> joins) {
  ClipInput clip;
  for (const double join : joins) clip.joins.push_back(ClipTime{from_seconds(join)});
  return clip;
}

Split told(double at, double seconds, double loose = 0) {
  return {at, seconds, 1, at - loose - 1, at + loose + 1, loose, 0, false};
}

Segment heard(double from, double to, double lag) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  segment.fit.line = {from, lag, 0};
  return segment;
}

/// One recording of five parts, and another clip that begins ten seconds before it.
Splits settled(std::vector<Split> splits, const std::vector<PairMatch>& matches = {}) {
  Splits all{std::move(splits), {}};
  settle_joins({recording({100, 200, 300, 400}), recording({})}, matches, all);
  return all;
}

}  // namespace

TEST_CASE("a loss that may lie where two parts of a recording meet lies there") {
  const Splits all = settled({told(104, 0.27, 5), told(199.4, 0.9), told(250, 0.5), told(303, 0.2, 1)});
  REQUIRE(all[0].size() == 4);
  CHECK(all[0][0].at == 100);
  CHECK(all[0][0].loose == 0);
  CHECK(all[0][1].at == 200);
  CHECK(all[0][2].at == 250);
  CHECK(all[0][3].at == 303);
  CHECK(all[0][3].loose == 1);
}

TEST_CASE("where two joins lost the same, those that no pair heard across lost it too") {
  const Splits all = settled({told(100, 0.26), told(300, 0.27)});
  REQUIRE(all[0].size() == 4);
  for (std::size_t i = 0; i < 4; ++i) CHECK(all[0][i].at == 100.0 + 100.0 * static_cast<double>(i));
  CHECK(all[0][1].seconds == doctest::Approx(0.265));
  CHECK(all[0][1].supposed);
  CHECK(!all[0][2].supposed);
  CHECK(all[0][3].seconds == doctest::Approx(0.265));
  CHECK(all[1].empty());
}

TEST_CASE("nothing is supposed of joins where one told no loss, or they lost differently, or but one is told of") {
  CHECK(settled({told(100, 0.26)})[0].size() == 1);
  CHECK(settled({told(100, 0.26), told(300, 0.33)})[0].size() == 2);
  CHECK(settled({told(100, 0.02), told(300, 0.02)})[0].size() == 2);
  // The other clip's second t is the recording's t - 10.
  const PairMatch across = test::match(1, 0, {heard(190, 300, -10)}), up_to = test::match(1, 0, {heard(120, 208, -10)});
  CHECK(settled({told(100, 0.26), told(300, 0.27)}, {across})[0].size() == 2);
  CHECK(settled({told(100, 0.26), told(300, 0.27)}, {up_to})[0].size() == 4);
  CHECK(settled({told(100, 0.26), told(300, 0.27)}, {test::match(0, 1, {heard(190, 300, 10)})})[0].size() == 2);
}
