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

/// One recording of five parts, 500 s long.
std::vector<ClipInput> clips() {
  std::vector<ClipInput> both{recording({100, 200, 300, 400}), recording({})};
  for (ClipInput& clip : both) clip.length = from_seconds(500);
  return both;
}

std::vector<Split> moved(std::vector<Split> splits) {
  Splits all{std::move(splits), {}};
  move_to_joins(clips(), all);
  return all[0];
}

std::vector<Split> with_supposed(std::vector<Split> splits, const std::vector<PairMatch>& matches = {}) {
  Splits all{std::move(splits), {}};
  const std::size_t before = all[0].size();
  const bool any = suppose_at_joins(clips(), matches, all);
  CHECK(any == (all[0].size() > before));
  CHECK(all[1].empty());
  return all[0];
}

}  // namespace

TEST_CASE("a loss that may lie where two parts of a recording meet lies there") {
  const auto all = moved({told(104, 0.27, 5), told(199.4, 0.9), told(250, 0.5), told(303, 0.2, 1)});
  REQUIRE(all.size() == 4);
  CHECK(all[0].at == 100);
  CHECK(all[0].loose == 0);
  CHECK(all[1].at == 200);
  CHECK(all[2].at == 250);
  CHECK(all[3].at == 303);
  CHECK(all[3].loose == 1);
}

TEST_CASE(
    "a loss stays where it was told where no recorder needs as long, or more than one join or loss may be meant") {
  const auto stays = [](const Split& split) {
    const auto all = moved({split});
    return all[0].at == split.at && all[0].loose == split.loose;
  };
  CHECK_FALSE(stays(told(104, 1.9, 5)));
  CHECK(stays(told(104, 6, 5)));
  CHECK(stays(told(199.6, 2.5)));
  CHECK(stays(told(205, 0.54, 110)));  // three joins
  CHECK(stays(told(60, 0.54, 45)));    // so long a stretch
  const auto two = moved({told(92, 0.9, 9), told(100.2, 0.27)});
  CHECK(two[0].at == 92);
  CHECK(two[1].at == 100.2);
  // In order, whatever moves.
  const auto crossed = moved({told(90, 0.27, 15), told(95.5, 0.4)});
  CHECK(crossed[0].at == 95.5);
  CHECK(crossed[1].at == 100);
}

TEST_CASE("where two joins lost the same, those of which no pair heard both sides lost it too") {
  const auto all = with_supposed({told(100, 0.26), told(300, 0.27)});
  REQUIRE(all.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) CHECK(all[i].at == 100.0 + 100.0 * static_cast<double>(i));
  CHECK(all[1].seconds == doctest::Approx(0.265));
  CHECK(all[1].supposed);
  CHECK(!all[2].supposed);
  CHECK(all[3].seconds == doctest::Approx(0.265));
}

TEST_CASE("nothing is supposed of joins where one lost nothing, or they lost differently, or but one is told of") {
  CHECK(with_supposed({told(100, 0.26)}).size() == 1);
  CHECK(with_supposed({told(100, 0.26), told(300, 0.30)}).size() == 2);
  CHECK(with_supposed({told(100, 0.02), told(300, 0.02)}).size() == 2);
  // None beside a longer loss that may be there.
  CHECK(with_supposed({told(104, 6, 5), told(200, 0.27), told(300, 0.27)}).size() == 4);
  // The other clip's second t is the recording's t - 10.
  const std::vector<Split> two{told(100, 0.26), told(300, 0.27)};
  const PairMatch across = test::match(1, 0, {heard(190, 300, -10)}), up_to = test::match(1, 0, {heard(120, 208, -10)});
  CHECK(with_supposed(two, {across}).size() == 2);
  CHECK(with_supposed(two, {up_to}).size() == 4);
  CHECK(with_supposed(two, {test::match(0, 1, {heard(190, 300, 10)})}).size() == 2);
  // A pair that heard both sides has told what was lost between, be it of the other clip.
  CHECK(with_supposed(two, {test::match(1, 0, {heard(120, 208, -10), heard(214, 280, -11)})}).size() == 2);
}
