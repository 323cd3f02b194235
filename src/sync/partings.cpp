#include "sync/partings.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"

namespace jigtime::sync {

namespace {

/// Seconds: more than lies between two windows of a pair, half a window to either side.
constexpr double surely_beyond = 24;
constexpr double same_end = 1e-6;
constexpr double loss_behind = 15;  // seconds on the side that is not in doubt: what a window may seem to hear beyond

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

bool has(const Edge& edge, const Graph& graph, int clip) {
  return graph.nodes[at(edge.a)].clip == clip || graph.nodes[at(edge.b)].clip == clip;
}

/// Whether anything that the edge heard lies where it is asked for, in the clip's seconds.
template <class Where>
bool heard(const Edge& edge, const Graph& graph, int clip, const Where& where) {
  const bool is_a = graph.nodes[at(edge.a)].clip == clip;
  return std::ranges::any_of(edge.observations,
                             [&](const Observation& one) { return where(is_a ? one.at : one.at + one.lag); });
}

/// Whether the test holds for any edge that the solution believes.
template <class Test>
bool any_believed(const Graph& graph, const Solved& solved, const Test& test) {
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    if (!solved.dropped[i] && test(graph.edges[i])) return true;
  }
  return false;
}

/// Whether the solution believes what the pair heard last before they part.
bool believed(const PairParting& pair, const Graph& graph, const Solved& solved) {
  return any_believed(graph, solved, [&](const Edge& edge) {
    const auto near = [&](double t) { return std::abs(t - pair.a.at) <= surely_beyond; };
    return edge.match == pair.match && heard(edge, graph, pair.a.clip, near);
  });
}

/// Whether anything but the clip's own stretch beyond ties the other clip to the rest.
bool tied_otherwise(const Parting& parting, int other, const Graph& graph, const Solved& solved) {
  return any_believed(graph, solved, [&](const Edge& edge) {
    if (!has(edge, graph, other)) return false;
    const auto on_near_side = [&](double t) { return parting.before ? t >= parting.at : t <= parting.at; };
    return !has(edge, graph, parting.clip) || heard(edge, graph, parting.clip, on_near_side);
  });
}

bool known_beyond(const Parting& parting, const Graph& graph, const Solved& solved) {
  return any_believed(graph, solved, [&](const Edge& edge) {
    if (!has(edge, graph, parting.clip)) return false;
    const double least = edge.match < 0 ? 0 : surely_beyond;  // a tie is meant to be there
    const auto beyond = [&](double t) { return parting.before ? t <= parting.at - least : t >= parting.at + least; };
    const int a = graph.nodes[at(edge.a)].clip, b = graph.nodes[at(edge.b)].clip;
    return heard(edge, graph, parting.clip, beyond) &&
           tied_otherwise(parting, a == parting.clip ? b : a, graph, solved);
  });
}

bool explained(const Parting& parting, const std::vector<std::vector<Split>>& splits) {
  return std::ranges::any_of(splits[at(parting.clip)], [&](const Split& loss) {
    const double off = parting.before ? parting.at - loss.at : loss.at - parting.at;
    return !loss.supposed && off >= -loss_behind - loss.loose && off <= surely_beyond + loss.loose;
  });
}

/// Of two that tell of one clip and the same side the one with the longer stretch.
void add(const Parting& parting, std::vector<Parting>& found) {
  const auto same = std::ranges::find_if(
      found, [&](const Parting& one) { return one.clip == parting.clip && one.before == parting.before; });
  if (same == found.end()) {
    found.push_back(parting);
  } else if (parting.before ? parting.at > same->at : parting.at < same->at) {
    *same = parting;
  }
}

}  // namespace

std::vector<Parting> find_partings(const std::vector<PairMatch>& matches, const std::vector<std::vector<Split>>& splits,
                                   const Graph& graph, const Solved& solved) {
  std::vector<Parting> found;
  for (const PairParting& pair : of_pairs(matches)) {
    if (explained(pair.a, splits) || explained(pair.b, splits) || !believed(pair, graph, solved)) continue;
    for (const Parting& one : {pair.a, pair.b}) {
      if (!known_beyond(one, graph, solved)) add(one, found);
    }
  }
  return found;
}

}  // namespace jigtime::sync
