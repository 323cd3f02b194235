#include "sync/partings.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"

namespace jigtime::sync {

namespace {

constexpr double surely_beyond = 5;  // seconds: more than half a window
constexpr double same_end = 1e-6;
/// Seconds from the place, on the side in doubt, within which a loss explains why nothing fits: no window that did not
/// fit need lie nearer.
constexpr double loss_beyond = 60;
constexpr double loss_behind = 15;

/// Where both clips of a pair part company.
struct PairParting {
  Parting a;
  Parting b;
  int match = 0;
};

std::vector<PairParting> of_pairs(const std::vector<PairMatch>& matches) {
  std::vector<PairParting> all;
  for (std::size_t i = 0; i < matches.size(); ++i) {
    const PairMatch& match = matches[i];
    if (match.segments.empty()) continue;
    const auto add = [&](const Segment& segment, double t, bool before) {
      all.push_back(
          {{match.a, match.b, t, before}, {match.b, match.a, t + segment.fit.line(t), before}, static_cast<int>(i)});
    };
    const Segment& first = match.segments.front();
    const Segment& last = match.segments.back();
    // What was said of a piece that others have refuted since says nothing.
    if (std::abs(match.unmatched_to - first.from) < same_end) add(first, first.from, true);
    if (std::abs(match.unmatched_from - last.to) < same_end) add(last, last.to, false);
  }
  return all;
}

bool believed(int match, const Graph& graph, const Solved& solved) {
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    if (graph.edges[i].match == match && !solved.dropped[i]) return true;
  }
  return false;
}

bool beyond(const Parting& parting, double t) {
  return parting.before ? t <= parting.at - surely_beyond : t >= parting.at + surely_beyond;
}

bool known_beyond(const Parting& parting, const Graph& graph, const Solved& solved) {
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    const Edge& edge = graph.edges[i];
    if (solved.dropped[i]) continue;
    const bool is_a = graph.nodes[at(edge.a)].clip == parting.clip;
    if (!is_a && graph.nodes[at(edge.b)].clip != parting.clip) continue;
    const auto there = [&](const Observation& one) { return beyond(parting, is_a ? one.at : one.at + one.lag); };
    if (std::ranges::any_of(edge.observations, there)) return true;
  }
  return false;
}

bool explained(const Parting& parting, const std::vector<std::vector<Split>>& splits) {
  return std::ranges::any_of(splits[at(parting.clip)], [&](const Split& loss) {
    const double off = parting.before ? parting.at - loss.at : loss.at - parting.at;
    return off >= -loss_behind - loss.loose && off <= loss_beyond + loss.loose;
  });
}

}  // namespace

std::vector<Parting> find_partings(const std::vector<PairMatch>& matches, const std::vector<std::vector<Split>>& splits,
                                   const Graph& graph, const Solved& solved) {
  std::vector<Parting> found;
  for (const PairParting& pair : of_pairs(matches)) {
    if (explained(pair.a, splits) || explained(pair.b, splits) || !believed(pair.match, graph, solved)) continue;
    for (const Parting& one : {pair.a, pair.b}) {
      if (!known_beyond(one, graph, solved)) found.push_back(one);
    }
  }
  return found;
}

}  // namespace jigtime::sync
