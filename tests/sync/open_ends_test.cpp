#include "sync/open_ends.h"

#include <doctest/doctest.h>

#include "sync/solve.h"

using namespace jigtime::sync;

namespace {

constexpr int cameras = 3;

/// Clip b hears what a hears, `lag` seconds earlier on its own time, over these seconds of a.
Segment segment(double from, double to, double lag) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  segment.proof = 30;
  for (double t = from; t <= to; t += 5) segment.observations.push_back({t, -lag, 1});
  segment.fit = fit_line(segment.observations, 0, most_slope);
  return segment;
}

PairMatch match(int a, int b, std::vector<Segment> segments) {
  PairMatch match;
  match.a = a;
  match.b = b;
  match.segments = std::move(segments);
  return match;
}

/// Two clips of 400 s, the second 10 s later, that go on unmatched after 300 s of the first.
PairMatch parted() {
  PairMatch pair = match(0, 1, {segment(15, 300, 10)});
  pair.unmatched_from = 300;
  return pair;
}

struct Outcome {
  std::vector<std::vector<Split>> splits;
  Graph graph;
  Solved solved;

  explicit Outcome(const std::vector<PairMatch>& matches) : splits{find_splits(matches, cameras)} {
    add_open_ends(matches, splits);
    std::vector<Node> nodes;
    for (int clip = 0; clip < cameras; ++clip) nodes.push_back({clip, clip, 0, 400});
    graph = build_graph(nodes, splits, matches);
    solved = solve(graph, {cameras, 0});
  }
  std::vector<Solved::Place> of(int clip) const {
    std::vector<Solved::Place> places;
    for (std::size_t i = 0; i < graph.nodes.size(); ++i) {
      if (graph.nodes[i].clip == clip) places.push_back(solved.places[i]);
    }
    return places;
  }
};

}  // namespace

TEST_CASE("where two clips part company either may have lost time: what is beyond goes on, but is in doubt") {
  const Outcome outcome{{parted()}};
  for (const int clip : {0, 1}) {
    REQUIRE(outcome.splits[static_cast<std::size_t>(clip)].size() == 1);
    const Split& open = outcome.splits[static_cast<std::size_t>(clip)].front();
    CHECK(open.at == doctest::Approx(clip == 0 ? 300 : 290));
    CHECK(open.other == 1 - clip);
    const auto places = outcome.of(clip);
    REQUIRE(places.size() == 2);
    CHECK(places[1].start == doctest::Approx(300).epsilon(1e-4));
    CHECK(places[0].sigma < 0.01);
    CHECK(places[1].sigma == doctest::Approx(unheard_loss_sigma).epsilon(0.01));
  }
}

TEST_CASE("a clip that a third one heard across the place has lost nothing there") {
  const Outcome outcome{{parted(), match(0, 2, {segment(20, 390, 5)})}};
  CHECK(outcome.splits[0].empty());
  REQUIRE(outcome.splits[1].size() == 1);
  CHECK(outcome.of(1)[1].sigma > 25);
}

TEST_CASE("what a third clip heard beyond tells where that part lies, whatever was lost") {
  // The third hears the first all along, and the second before and after 0.3 s that only this one lost.
  PairMatch third = match(1, 2, {segment(295, 385, -5.3)});
  const Outcome outcome{{parted(), match(0, 2, {segment(20, 390, 5)}), third}};
  const auto places = outcome.of(1);
  REQUIRE(places.size() == 2);
  CHECK(places[0].start == doctest::Approx(10).epsilon(1e-4));
  CHECK(places[1].start == doctest::Approx(300 + 0.3).epsilon(1e-5));
  CHECK(places[1].sigma < 0.02);
}

TEST_CASE("a loss that is known near the place is what parts them") {
  // The second lost 2 s at its 290th, as the third tells.
  const Outcome outcome{{parted(), match(1, 2, {segment(10, 288, -5), segment(292, 390, -7)})}};
  CHECK(outcome.splits[0].empty());
  REQUIRE(outcome.splits[1].size() == 1);
  CHECK(outcome.splits[1][0].seconds == doctest::Approx(2).epsilon(0.01));
  CHECK(outcome.splits[1][0].open == 0);
}
