#include "sync/partings.h"

#include <doctest/doctest.h>

#include "sync/match.h"

using namespace jigtime::sync;
using jigtime::test::match;

namespace {

constexpr int cameras = 3;

/// Clip b hears what a hears, `lag` seconds earlier on its own time, over these seconds of a.
Segment segment(double from, double to, double lag, double proof = 30) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  segment.proof = proof;
  for (double t = from; t <= to; t += 5) segment.observations.push_back({t, -lag, 1});
  segment.fit = fit_line(segment.observations, 0, most_slope);
  return segment;
}

/// Two clips of 400 s, the second 10 s later, that part company after 300 s of the first.
PairMatch parted() {
  PairMatch pair = match(0, 1, {segment(15, 300, 10)});
  pair.unmatched_from = 300;
  return pair;
}

std::vector<Parting> partings(const std::vector<PairMatch>& matches, const std::vector<Observation>& tied = {}) {
  const auto splits = find_splits(matches, cameras);
  std::vector<Node> nodes;
  for (int clip = 0; clip < cameras; ++clip) nodes.push_back({clip, clip, 0, 400});
  Graph graph = build_graph(nodes, splits, matches);
  for (const Observation& one : tied) graph.edges.push_back({0, 1, -1, 0.01, 0, 0, 0, 1e6, {one}});
  return find_partings(matches, splits, graph, solve(graph, {cameras, 0}));
}

}  // namespace

TEST_CASE("where the clips of a pair part company, either may have stopped") {
  const auto found = partings({parted()});
  REQUIRE(found.size() == 2);
  CHECK(found[0].clip == 0);
  CHECK(found[0].other == 1);
  CHECK(found[0].at == doctest::Approx(300));
  CHECK_FALSE(found[0].before);
  CHECK(found[1].clip == 1);
  CHECK(found[1].other == 0);
  CHECK(found[1].at == doctest::Approx(290));
  PairMatch before = match(0, 1, {segment(115, 385, 10)});
  before.unmatched_to = 115;
  const auto earlier = partings({before});
  REQUIRE(earlier.size() == 2);
  CHECK(earlier[0].before);
  CHECK(earlier[1].at == doctest::Approx(105));
  before.unmatched_to = 50;  // said of a piece that is there no more
  CHECK(partings({before}).empty());
  CHECK(partings({match(0, 1, {segment(15, 300, 10)})}).empty());
}

TEST_CASE("a clip that others hear beyond, or a tie holds there, has not stopped unknown") {
  const auto third = match(0, 2, {segment(20, 390, 5)});
  const auto found = partings({parted(), third});
  REQUIRE(found.size() == 1);
  CHECK(found[0].clip == 1);
  // Up to the place only, it tells nothing of what lies beyond.
  CHECK(partings({parted(), match(0, 2, {segment(20, 298, 5)})}).size() == 2);
  // What hangs on the stretch alone goes wherever that goes.
  CHECK(partings({parted(), match(0, 2, {segment(330, 390, 5)})}).size() == 2);
  CHECK(partings({parted()}, {{350, -10, 1}}).empty());
  CHECK(partings({parted()}, {{303, -10, 1}}).empty());
  CHECK(partings({parted()}, {{250, -10, 1}}).size() == 2);
}

TEST_CASE("a loss that is known of one of the two is why they part company; one that is far away is not") {
  const auto lost_at = [](double t) { return match(1, 2, {segment(10, t - 2, -5), segment(t + 2, 390, -7)}); };
  CHECK(partings({parted(), lost_at(291)}).empty());
  CHECK(partings({parted(), lost_at(308)}).empty());
  for (const double far : {100.0, 340.0}) {
    const auto found = partings({parted(), lost_at(far)});
    REQUIRE(found.size() == 1);
    CHECK(found[0].clip == 0);
  }
}

TEST_CASE("a clip that parts company with two others is told once, from where the first of them does") {
  PairMatch other = match(0, 2, {segment(20, 297, 5)});
  other.unmatched_from = 297;
  const auto found = partings({parted(), other});
  REQUIRE(found.size() == 3);
  CHECK(found[0].clip == 0);
  CHECK(found[0].at == doctest::Approx(297));
  CHECK(found[0].other == 2);
  CHECK(found[1].clip == 1);
  CHECK(found[2].clip == 2);
}

TEST_CASE("a pair that the rest of the session refutes says nothing") {
  const auto third = [](int clip) { return match(clip, 2, {segment(5, 395, clip == 0 ? 50 : 0)}); };
  PairMatch wrong = match(0, 1, {segment(15, 300, 10, 5)});
  wrong.unmatched_from = 300;
  CHECK(partings({wrong, third(0), third(1)}).empty());
}
