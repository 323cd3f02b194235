#include "sync/unheard.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "sync/pair_word.h"

using namespace jigtime::sync;
using jigtime::test::heard;

namespace {

/// Three cameras: clip 0 ran for 600 s and met clip 1 in its first half, clip 2 in its second; 1 and 2 met as well.
struct Day {
  double lost = 16;   ///< by clip 0 at its 300th second
  double proof = 25;  ///< of the pair 0 and 1
  double met_from = 20;

  std::vector<PairMatch> matches() const {
    // Session time is clip 1's. Clip 2 began 280 s later; clip 0 began with clip 1.
    return {heard(0, 1, met_from, 280, 0, proof), heard(0, 2, 320, 580, lost - 280, 40),
            heard(1, 2, 290, 560, -280, 40)};
  }
};

struct Result {
  Trial trial;
  Splits splits;
  bool added = false;
};

Result told(const std::vector<PairMatch>& matches) {
  const std::vector<Node> clips{{0, 0, 0, 600}, {1, 1, 0, 600}, {2, 2, 0, 600}};
  const auto solve_with = [&](const Splits& splits) {
    Trial trial;
    trial.graph = build_graph(clips, splits, matches);
    trial.solved = solve(trial.graph, {3, 1});
    return trial;
  };
  Result result;
  result.splits = find_splits(matches, 3);
  result.trial = solve_with(result.splits);
  result.added = add_unheard(result.trial, solve_with, result.splits);
  if (result.added) result.trial = solve_with(result.splits);
  return result;
}

}  // namespace

TEST_CASE("a loss between what two other clips heard is told by their contradiction") {
  for (const double lost : {0.5, 16.0, 150.0}) {
    CAPTURE(lost);
    const Result result = told(Day{.lost = lost}.matches());
    REQUIRE(result.added);
    CHECK(result.splits[1].empty());
    CHECK(result.splits[2].empty());
    REQUIRE(result.splits[0].size() == 1);
    const Split& split = result.splits[0].front();
    CHECK(std::abs(split.at - 300) < 3);
    CHECK(std::abs(split.loose - 20) < 3);  // nothing was heard between 280 and 320
    CHECK(std::abs(split.seconds - lost) < 0.01);
    // Clip 0's first half lies with clip 1, its second with clip 2.
    REQUIRE(result.trial.graph.nodes.size() == 4);
    CHECK(std::abs(result.trial.solved.places[0].start - result.trial.solved.places[2].start) < 0.01);
    CHECK(std::abs(result.trial.solved.places[1].start - result.trial.solved.places[0].start - split.at - lost) < 0.01);
    for (const bool dropped : result.trial.solved.dropped) CHECK(!dropped);
  }
}

TEST_CASE("clips that fit together have lost nothing") { CHECK(!told(Day{.lost = 0}.matches()).added); }

TEST_CASE("a recorder does not gain time: another clip must have lost it") {
  const Result result = told(Day{.lost = -16}.matches());
  CHECK(result.splits[0].empty());
  REQUIRE(result.added);
  REQUIRE(result.splits[1].size() == 1);  // between what it heard with 0 and what it heard with 2
  CHECK(std::abs(result.splits[1].front().at - 285) < 3);
}

TEST_CASE("where two clips may each have lost the time, neither is parted") {
  // As with a loss of 1 before 2 is met; but 1 was not heard with 2 early, so that a loss of 2 would do as well.
  std::vector<PairMatch> matches = Day{.lost = -16}.matches();
  matches[1] = heard(0, 2, 420, 580, -16 - 280, 40);
  matches[2] = heard(1, 2, 290, 400, -280, 40);
  CHECK(!told(matches).added);
}

TEST_CASE(
    "a pair's word parts no clip when it is weak or short, or the loss is longer than a camera needs to come back") {
  CHECK(!told(Day{.proof = 8}.matches()).added);
  CHECK(!told(Day{.met_from = 265}.matches()).added);
  CHECK(!told(Day{.lost = 200}.matches()).added);
}

TEST_CASE("where the two others meet the clip at the same time nothing can have been lost between them") {
  std::vector<PairMatch> matches = Day{}.matches();
  matches[1] = heard(0, 2, 100, 580, 16 - 280, 40);
  CHECK(!told(matches).added);
}
