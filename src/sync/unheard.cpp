#include "sync/unheard.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double well_proven = 9;      // of a pair on whose word alone a clip is parted
constexpr double long_enough = 20;     // seconds over which it must have heard something
constexpr double least_unheard = 0.1;  // seconds: less may be a blow beside the true line
constexpr double shared = 3;           // seconds: half a window on either side of a loss
constexpr int most_places = 40;        // at which a loss is tried, for one pair
constexpr int most_pairs = 4;          // each place takes all clips to be solved anew

struct Loss {
  int clip = 0;
  Split split;
};

void add(const Loss& loss, Splits& splits) {
  std::vector<Split>& of_clip = splits[at(loss.clip)];
  const auto later = [&](const Split& one) { return one.at > loss.split.at; };
  of_clip.insert(std::find_if(of_clip.begin(), of_clip.end(), later), loss.split);
}

/// The pairs of which the solution leaves something out.
std::set<int> left_out(const Trial& trial) {
  std::set<int> pairs;
  for (std::size_t i = 0; i < trial.graph.edges.size(); ++i) {
    if (trial.solved.dropped[i]) pairs.insert(trial.graph.edges[i].match);
  }
  return pairs;
}

class Search {
 public:
  Search(const Trial& now, const SolveWith& solve_with, const Splits& splits)
      : now_{now}, solve_with_{solve_with}, splits_{splits} {}

  /// The loss that makes the edge fit, if it can only be in one clip.
  std::optional<Loss> loss_for(const Edge& edge) const {
    if (!worth_a_loss(edge)) return std::nullopt;
    const double lost = std::abs(off(edge));
    if (lost < least_unheard || lost > longest_loss) return std::nullopt;
    std::optional<Loss> found;
    int tried = 0;
    for (const int clip : clips_near(edge)) {
      for (const Extent& gap : gaps_between(now_.graph, clip, shared)) {
        if (++tried > most_places) return std::nullopt;
        const Loss loss = loss_in(clip, gap, lost);
        if (!fits(edge, loss)) continue;
        if (found && found->clip != clip) return std::nullopt;
        found = found ? loss_in(clip, {found->split.earliest, loss.split.latest}, lost) : loss;
      }
    }
    return found;
  }

 private:
  static bool worth_a_loss(const Edge& edge) {
    const auto& heard = edge.observations;
    return edge.match >= 0 && edge.strength >= well_proven && !heard.empty() &&
           heard.back().at - heard.front().at >= long_enough;
  }

  double session(int node, double t) const {
    const Solved::Place& place = now_.solved.places[at(node)];
    return place.start + (t - now_.graph.nodes[at(node)].from) * (1 + place.rate);
  }

  /// Session seconds by which a's sounds lie behind b's. Precondition: worth_a_loss.
  double off(const Edge& edge) const {
    std::vector<double> all;
    for (const Observation& one : edge.observations)
      all.push_back(session(edge.a, one.at) - session(edge.b, one.at + one.lag));
    return signal::median(std::move(all));
  }

  int clip_of(int node) const { return now_.graph.nodes[at(node)].clip; }

  /// The edge's two clips, and those that share sound with either.
  std::set<int> clips_near(const Edge& edge) const {
    std::set<int> near{clip_of(edge.a), clip_of(edge.b)};
    const std::set<int> both = near;
    for (const Edge& other : now_.graph.edges) {
      if (both.contains(clip_of(other.a)) || both.contains(clip_of(other.b)))
        near.insert({clip_of(other.a), clip_of(other.b)});
    }
    return near;
  }

  static Loss loss_in(int clip, const Extent& gap, double lost) {
    return {clip, {(gap.from + gap.to) / 2, lost, 1, gap.from, gap.to, (gap.to - gap.from) / 2}};
  }

  bool fits(const Edge& edge, const Loss& loss) const {
    Splits splits = splits_;
    add(loss, splits);
    const Trial trial = solve_with_(splits);
    return !left_out(trial).contains(edge.match) && leaves_out_no_more(trial, now_);
  }

  const Trial& now_;
  const SolveWith& solve_with_;
  const Splits& splits_;
};

}  // namespace

std::vector<Extent> gaps_between(const Graph& graph, int clip, double shared) {
  std::vector<Extent> heard;
  for (const Edge& edge : graph.edges) {
    if (edge.observations.empty()) continue;
    const Observation &first = edge.observations.front(), &last = edge.observations.back();
    if (graph.nodes[at(edge.a)].clip == clip) heard.push_back({first.at, last.at});
    if (graph.nodes[at(edge.b)].clip == clip) heard.push_back({first.at + first.lag, last.at + last.lag});
  }
  std::sort(heard.begin(), heard.end(), [](const Extent& a, const Extent& b) { return a.from < b.from; });
  std::vector<Extent> gaps;
  double to = heard.empty() ? 0 : heard.front().to;
  for (const Extent& one : heard) {
    if (one.from > to - shared && &one != &heard.front())
      gaps.push_back({std::min(to, one.from), std::max(to, one.from)});
    to = std::max(to, one.to);
  }
  return gaps;
}

bool leaves_out_no_more(const Trial& more, const Trial& now) {
  const std::set<int> before = left_out(now), after = left_out(more);
  return std::includes(before.begin(), before.end(), after.begin(), after.end());
}

bool add_unheard(const Trial& now, const SolveWith& solve_with, Splits& splits) {
  std::vector<const Edge*> edges;
  for (std::size_t i = 0; i < now.graph.edges.size(); ++i) {
    if (now.solved.dropped[i]) edges.push_back(&now.graph.edges[i]);
  }
  std::stable_sort(edges.begin(), edges.end(), [](const Edge* a, const Edge* b) { return a->strength > b->strength; });
  edges.resize(std::min(edges.size(), at(most_pairs)));
  const Search search{now, solve_with, splits};
  for (const Edge* edge : edges) {
    const auto loss = search.loss_for(*edge);
    if (!loss) continue;
    add(*loss, splits);
    return true;
  }
  return false;
}

}  // namespace jigtime::sync
