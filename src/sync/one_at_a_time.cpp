#include "sync/one_at_a_time.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "sync/at.h"
#include "sync/clock_talk.h"
#include "sync/clocks.h"
#include "sync/groups.h"
#include "sync/judge.h"
#include "sync/lies.h"

namespace jigtime::sync {

namespace {

constexpr double slack = 2;  // seconds that two clips of a camera may seem to share
constexpr std::size_t fewest_refused = 3;
constexpr double hardly_stronger = 1.3;  // times the proof of the weakest

// Seconds by which two cameras' clocks must have gone on together against the sound: less may be how a recorder stamps;
// more than half a day is a power cut after which both began at their factory date; and whole half hours are set by
// hand, on all cameras, when the builder sees that they show another zone's time.
constexpr double least_set_on = 5;
constexpr double most_set_on = 12 * 3600;
constexpr double alike = 2;  // seconds between two such

bool at_once(const Lie& x, const Lie& y) {
  return std::min(x.end, y.end) - std::max(x.begin, y.begin) > slack + 3 * std::hypot(x.sigma, y.sigma);
}

/// In what order cameras filmed, as far as that is sure, and how long they took for it.
class Order {
 public:
  Order(const std::vector<ClipInput>& clips, const std::vector<Lie>& lies) : clips_{clips}, lies_{lies} {}

  /// Whether the two lie in the wrong order, or so near that what was filmed between them finds no room.
  bool broken(int x, int y) const {
    const bool first = surely_before(clips_[at(x)], clips_[at(y)]);
    if (!first && !surely_before(clips_[at(y)], clips_[at(x)])) return false;
    const Lie &before = lies_[at(first ? x : y)], &after = lies_[at(first ? y : x)];
    if (after.begin < before.begin) return true;
    double needed = 0;
    for (int w = 0; w < static_cast<int>(clips_.size()); ++w) {
      if (clips_[at(w)].camera != clips_[at(x)].camera) continue;
      const bool between = surely_before(clips_[at(first ? x : y)], clips_[at(w)]) &&
                           surely_before(clips_[at(w)], clips_[at(first ? y : x)]);
      needed += between ? to_seconds(clips_[at(w)].length) - slack : 0;
    }
    return needed > 0 && after.begin - before.end < needed - slack - 3 * std::hypot(before.sigma, after.sigma);
  }

 private:
  const std::vector<ClipInput>& clips_;
  const std::vector<Lie>& lies_;
};

/// What the cameras' clocks say of the time between clips, beyond what the solution does.
class Clocks {
 public:
  Clocks(const std::vector<ClipInput>& clips, const std::vector<Lie>& lies)
      : clips_{clips}, lies_{lies}, stamps_{good_stamps(clips)} {
    for (int x = 0; x < static_cast<int>(clips.size()); ++x) {
      for (int y = x + 1; y < static_cast<int>(clips.size()); ++y) {
        if (const auto seconds = set_on(x, y)) found_.push_back({x, y, *seconds});
      }
    }
  }

  /// Whether the clock of another camera says the same of two of its clips, between other places.
  bool borne_out(int x, int y) const {
    const auto own = set_on(x, y);
    return own && std::any_of(found_.begin(), found_.end(), [&](const SetOn& one) {
             return clips_[at(one.x)].camera != clips_[at(x)].camera &&
                    lies_[at(one.x)].component == lies_[at(x)].component && std::abs(one.seconds - *own) < alike;
           });
  }

 private:
  struct SetOn {
    int x = 0;
    int y = 0;
    double seconds = 0;
  };

  /// By how much more the clock went on from one clip of a camera to another than the session did; nothing where it
  /// says the same, or cannot be believed.
  std::optional<double> set_on(int x, int y) const {
    if (lies_[at(y)].begin < lies_[at(x)].begin) std::swap(x, y);
    if (clips_[at(x)].camera != clips_[at(y)].camera || !lies_[at(x)].heard || !lies_[at(y)].heard) return std::nullopt;
    if (lies_[at(x)].component != lies_[at(y)].component) return std::nullopt;
    const ClockHint *of_x = stamps_[at(x)], *of_y = stamps_[at(y)];
    if (of_x == nullptr || of_y == nullptr || of_x->trust != of_y->trust) return std::nullopt;
    const double seconds = to_seconds(of_y->clip_zero - of_x->clip_zero) - (lies_[at(y)].begin - lies_[at(x)].begin);
    const double doubt = 3 * std::hypot(to_seconds(of_x->sigma), to_seconds(of_y->sigma));
    if (std::abs(seconds) < std::max(least_set_on, doubt) || std::abs(seconds) > most_set_on) return std::nullopt;
    if (other_zones(seconds)) return std::nullopt;
    return seconds;
  }

  const std::vector<ClipInput>& clips_;
  const std::vector<Lie>& lies_;
  std::vector<const ClockHint*> stamps_;  // by clip
  std::vector<SetOn> found_;
};

/// By edge. Of a long clip each node has its own edge, but the pair is proven as a whole; and what the cameras' clocks
/// say of it, as other pairs tell them, counts as much again, or takes half of it away.
std::vector<double> strengths_of(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                                 const Graph& graph) {
  const ClockTalk clocks{clips, matches};
  std::vector<double> of_pairs;
  for (int m = 0; m < static_cast<int>(matches.size()); ++m) {
    const auto& segments = matches[at(m)].segments;
    const auto says = clocks.of(m).says;
    const double weight = says == ClockTalk::Says::the_same ? 2 : says == ClockTalk::Says::nothing ? 1 : 0.5;
    of_pairs.push_back(segments.empty() ? 0 : weight * strongest(segments).proof);
  }
  std::vector<double> strengths;
  for (const Edge& edge : graph.edges) strengths.push_back(edge.match < 0 ? edge.strength : of_pairs[at(edge.match)]);
  return strengths;
}

/// The best proven pairs that tie the clips together without a loop, and the way from one clip to another along them.
class Tree {
 public:
  Tree(std::size_t clips, const Trial& now, const std::vector<double>& strengths)
      : graph_{now.graph}, strengths_{strengths}, branches_(clips) {
    std::vector<int> order;
    for (int i = 0; i < static_cast<int>(graph_.edges.size()); ++i) {
      if (!now.solved.dropped[at(i)]) order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return strengths_[at(a)] > strengths_[at(b)]; });
    Groups together{clips};
    for (const int edge : order) {
      const auto [a, b] = ends(edge);
      if (!together.join(a, b)) continue;
      branches_[at(a)].push_back(edge);
      branches_[at(b)].push_back(edge);
    }
  }

  /// Edges from one clip to another; empty without a way.
  std::vector<int> way(int from, int to) const {
    std::vector<int> way;
    find(from, to, -1, way);
    return way;
  }

 private:
  std::pair<int, int> ends(int edge) const {
    const Edge& one = graph_.edges[at(edge)];
    return {graph_.nodes[at(one.a)].clip, graph_.nodes[at(one.b)].clip};
  }

  bool find(int from, int to, int came_by, std::vector<int>& way) const {
    if (from == to) return true;
    for (const int edge : branches_[at(from)]) {
      if (edge == came_by) continue;
      const auto [a, b] = ends(edge);
      way.push_back(edge);
      if (find(a == from ? b : a, to, edge, way)) return true;
      way.pop_back();
    }
    return false;
  }

  const Graph& graph_;
  const std::vector<double>& strengths_;    // by edge
  std::vector<std::vector<int>> branches_;  // by clip: edges
};

/// The least proven segment beside another one of its pair, by which one of the clips would have lost time; nothing
/// where all are proven better than `than`.
std::optional<Refusal> weakest_loss(const std::vector<PairMatch>& matches, const Clash& clash, double than) {
  std::optional<Refusal> found;
  for (std::size_t m = 0; m < matches.size(); ++m) {
    const PairMatch& match = matches[m];
    const auto is_of = [&](int clip) { return match.a == clip || match.b == clip; };
    if (match.segments.size() < 2 || (!is_of(clash.clip) && !is_of(clash.other))) continue;
    for (std::size_t k = 0; k < match.segments.size(); ++k) {
      if (match.segments[k].proof >= than) continue;
      than = match.segments[k].proof;
      found = Refusal{static_cast<int>(m), static_cast<int>(k), clash};
    }
  }
  return found;
}

/// Two clips that cannot lie so, and the pairs that tie them together.
struct Contradiction {
  Clash clash;
  std::vector<int> way;  // edges, none by hand
  double weakest = std::numeric_limits<double>::infinity();
};

}  // namespace

bool surely_before(const ClipInput& first, const ClipInput& second) {
  if (!first.number || !second.number || *first.number >= *second.number) return false;
  const ClockHint *best_first = nullptr, *best_second = nullptr;
  for (const ClockHint& one : first.clocks) {
    for (const ClockHint& other : second.clocks) {
      if (one.trust != other.trust || (best_first != nullptr && one.trust >= best_first->trust)) continue;
      best_first = &one;
      best_second = &other;
    }
  }
  if (best_first == nullptr || of_factory(best_first->clip_zero) || of_factory(best_second->clip_zero)) return false;
  const double doubt = 3 * std::hypot(to_seconds(best_first->sigma), to_seconds(best_second->sigma));
  const double between = to_seconds(best_second->clip_zero - best_first->clip_zero);
  return between > doubt && between > to_seconds(first.length) - doubt && between < same_season;
}

namespace {

/// All that there are, the worst proven first.
std::vector<Contradiction> contradictions_in(const std::vector<ClipInput>& clips, const Trial& now,
                                             const std::vector<double>& strengths) {
  const std::vector<Lie> lies = lies_of(clips.size(), now);
  const Tree tree{clips.size(), now, strengths};
  const Order order{clips, lies};
  const Clocks clocks{clips, lies};
  std::vector<Contradiction> found;
  for (int x = 0; x < static_cast<int>(clips.size()); ++x) {
    for (int y = x + 1; y < static_cast<int>(clips.size()); ++y) {
      const Lie &of_x = lies[at(x)], &of_y = lies[at(y)];
      if (clips[at(x)].camera != clips[at(y)].camera || !of_x.heard || !of_y.heard) continue;
      if (of_x.component != of_y.component || clips[at(x)].manual || clips[at(y)].manual) continue;
      const auto why = at_once(of_x, of_y)      ? std::optional{Impossible::at_once}
                       : order.broken(x, y)     ? std::optional{Impossible::order}
                       : clocks.borne_out(x, y) ? std::optional{Impossible::two_clocks}
                                                : std::nullopt;
      if (!why) continue;
      Contradiction one{{x, y, *why}, tree.way(x, y)};
      std::erase_if(one.way, [&](int edge) { return now.graph.edges[at(edge)].match < 0; });
      if (one.way.empty()) continue;
      for (const int edge : one.way) one.weakest = std::min(one.weakest, strengths[at(edge)]);
      found.push_back(std::move(one));
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Contradiction& s, const Contradiction& t) { return s.weakest < t.weakest; });
  return found;
}

}  // namespace

std::vector<Refusal> refuse_clashes(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                                    const Trial& now, Blame blame) {
  const std::vector<double> strengths = strengths_of(clips, matches, now.graph);
  const std::vector<Contradiction> found = contradictions_in(clips, now, strengths);
  if (found.empty()) return {};
  if (blame == Blame::losses_too) {
    if (const auto loss = weakest_loss(matches, found.front().clash, found.front().weakest)) return {*loss};
  }
  std::vector<Refusal> refused;
  std::vector<bool> taken(matches.size(), false);
  for (const Contradiction& one : found) {
    const auto match_of = [&](int edge) { return now.graph.edges[at(edge)].match; };
    // What was taken for another one may end this one too.
    if (std::any_of(one.way.begin(), one.way.end(), [&](int edge) { return taken[at(match_of(edge))]; })) continue;
    for (const int edge : one.way) {
      if (strengths[at(edge)] > hardly_stronger * one.weakest || taken[at(match_of(edge))]) continue;
      taken[at(match_of(edge))] = true;
      refused.push_back({match_of(edge), std::nullopt, one.clash});
    }
  }
  return refused;
}

Cleared without_clashes(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                        const std::function<Trial(const std::vector<PairMatch>&)>& solve_with,
                        const std::stop_token& stop) {
  Cleared cleared{matches, {}, false, solve_with(matches)};
  const Trial as_heard = cleared.trial;
  const auto proven = std::ranges::count_if(matches, [](const PairMatch& match) { return !match.segments.empty(); });
  const std::size_t most = std::max(fewest_refused, static_cast<std::size_t>(proven) / 2);
  while (!stop.stop_requested()) {
    std::vector<Refusal> refusals = refuse_clashes(clips, cleared.matches, cleared.trial, Blame::losses_too);
    if (refusals.empty()) return cleared;
    if (const auto segment = refusals.front().segment) {
      std::vector<PairMatch> less = cleared.matches;
      auto& segments = less[at(refusals.front().match)].segments;
      segments.erase(segments.begin() + *segment);
      Trial trial = solve_with(less);
      const auto then = contradictions_in(clips, trial, strengths_of(clips, less, trial.graph));
      const auto same = [&](const Contradiction& one) {
        return one.clash.clip == refusals.front().clash.clip && one.clash.other == refusals.front().clash.other;
      };
      if (std::none_of(then.begin(), then.end(), same)) {
        cleared.matches = std::move(less);
        cleared.trial = std::move(trial);
        continue;
      }
      refusals = refuse_clashes(clips, cleared.matches, cleared.trial, Blame::pairs);  // that loss was not it
    }
    for (const Refusal& refusal : refusals) {
      PairMatch& match = cleared.matches[at(refusal.match)];
      cleared.refused.push_back({match.a, match.b, strongest(match.segments), refusal.clash});
      match.segments.clear();
    }
    if (cleared.refused.size() > most) return {matches, {}, true, as_heard};
    cleared.trial = solve_with(cleared.matches);
  }
  return cleared;
}

}  // namespace jigtime::sync
