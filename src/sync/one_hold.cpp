#include "sync/one_hold.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "sync/at.h"
#include "sync/clocks.h"
#include "sync/groups.h"
#include "sync/judge.h"
#include "sync/lies.h"

namespace jigtime::sync {

namespace {

// Seconds.
constexpr double least_at_once = 0.1;  // beyond four standard errors: a file may end with a moment of the next one
constexpr double least_by_clock = 5;   // two stamps, each a second or two late
constexpr double own_losses = 1;       // of a clip: stamps that mark ends lie as much beside

/// Two clips of one camera that follow each other, and what its clock says of them.
struct Neighbours {
  int before = 0;
  int after = 0;
  double at_once = 0;            ///< seconds for which both would run; 0 where that is no more than doubt
  std::optional<double> more{};  ///< seconds that passed by the clock and not as they lie
};

class Holds {
 public:
  Holds(const std::vector<ClipInput>& clips, const Splits& splits, const Trial& now)
      : clips_{clips}, now_{now}, lies_{lies_of(clips.size(), now)}, stamps_{good_stamps(clips)} {
    for (int clip = 0; clip < static_cast<int>(clips.size()); ++clip) gaps_.push_back(gaps_between(now.graph, clip));
    for (const Edge& edge : now.graph.edges) {
      if (edge.observations.empty()) continue;
      const Observation& any = edge.observations.front();
      edges_.push_back({now.graph.nodes[at(edge.a)].clip, now.graph.nodes[at(edge.b)].clip, any.at, any.at + any.lag});
    }
    for (const auto& of_clip : splits) {
      double lost = 0;
      for (const Split& split : of_clip) lost += std::abs(split.seconds);
      lost_.push_back(lost);
    }
    find_neighbours();
  }

  std::vector<Hold> find() const {
    std::vector<Hold> found;
    for (const Neighbours& one : neighbours_) {
      const bool by_clock = one.more && *one.more > std::max(least_by_clock, one.at_once) && *one.more < longest_loss;
      if (!by_clock && one.at_once == 0) continue;
      auto hold = hold_of(one, by_clock);
      if (!hold || (by_clock && otherwise(*hold))) continue;
      const auto same = std::ranges::find_if(found, [&](const Hold& other) {
        return other.clip == hold->clip && other.gap.from < hold->gap.to && hold->gap.from < other.gap.to;
      });
      if (same == found.end()) {
        found.push_back(*std::move(hold));
      } else if (same->seconds < hold->seconds) {
        *same = *std::move(hold);
      }
    }
    return found;
  }

 private:
  /// Two clips, and a moment of each at which both heard the same.
  struct Ends {
    int a = 0, b = 0;
    double in_a = 0, in_b = 0;
  };

  void find_neighbours() {
    std::vector<int> order(clips_.size());
    std::iota(order.begin(), order.end(), 0);
    std::ranges::sort(order, {}, [&](int clip) {
      const Lie& lie = lies_[at(clip)];
      return std::tuple{clips_[at(clip)].camera, lie.component, lie.begin};
    });
    for (std::size_t i = 0; i + 1 < order.size(); ++i) {
      const int before = order[i], after = order[i + 1];
      const Lie &first = lies_[at(before)], &second = lies_[at(after)];
      if (clips_[at(before)].camera != clips_[at(after)].camera || first.component != second.component) continue;
      const double both = first.end - second.begin;
      const bool surely = both > least_at_once + 4 * std::hypot(first.sigma, second.sigma) && both < longest_loss;
      neighbours_.push_back({before, after, surely ? both : 0, more_by_clock(before, after)});
    }
  }

  /// Nothing where the stamps say nothing.
  std::optional<double> more_by_clock(int before, int after) const {
    const ClockHint *first = stamps_[at(before)], *second = stamps_[at(after)];
    if (first == nullptr || second == nullptr || first->trust != second->trust) return std::nullopt;
    if (of_factory(first->clip_zero) || of_factory(second->clip_zero)) return std::nullopt;
    if (lost_[at(before)] > own_losses || lost_[at(after)] > own_losses) return std::nullopt;
    const double more =
        to_seconds(second->clip_zero - first->clip_zero) - (lies_[at(after)].begin - lies_[at(before)].begin);
    // Stamps that mark ends differ by the lengths as well.
    const double by_ends = to_seconds(second->if_end - first->if_end);
    if (std::abs(by_ends) > least_by_clock && std::abs(more - by_ends) <= least_by_clock) return std::nullopt;
    return more;
  }

  /// The longest stretch of the only clip that holds the two together by nothing that anybody heard.
  std::optional<Hold> hold_of(const Neighbours& of, bool by_clock) const {
    std::optional<Hold> found;
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
      for (const Extent& gap : gaps_[at(clip)]) {
        const std::vector<int> sides = sides_of(clip, gap);
        if (together(of, clip, by_clock, sides)) continue;
        if (found && found->clip != clip) return std::nullopt;
        if (found && found->gap.length() >= gap.length()) continue;
        const double seconds = by_clock ? *of.more : of.at_once;
        found = Hold{clip,
                     gap,
                     seconds,
                     by_clock ? Note::Supposed::clock : Note::Supposed::at_once,
                     of.before,
                     of.after,
                     beyond(clip, gap, sides)};
      }
    }
    return found;
  }

  /// Whether another clock that ran on both sides says that no such time passed.
  bool otherwise(const Hold& hold) const {
    const std::vector<int> sides = sides_of(hold.clip, hold.gap);
    return std::ranges::any_of(neighbours_, [&](const Neighbours& one) {
      return one.more && *one.more < hold.seconds / 2 && !together(one, hold.clip, true, sides);
    });
  }

  int second_half() const { return static_cast<int>(clips_.size()); }

  /// For each clip, and the second half of the one that is cut in the gap, a number of what it hangs together with.
  std::vector<int> sides_of(int cut, const Extent& gap) const {
    Groups together{clips_.size() + 1};
    const auto half = [&](int clip, double t) { return clip == cut && t >= gap.to ? second_half() : clip; };
    // No edge hears across a gap: any moment tells on which side it is.
    for (const Ends& edge : edges_) together.join(half(edge.a, edge.in_a), half(edge.b, edge.in_b));
    std::vector<int> sides;
    for (int i = 0; i <= second_half(); ++i) sides.push_back(together.of(i));
    return sides;
  }

  /// A stamp tells where the first one begins, an overlap where it ends. Lying the wrong way round counts as together.
  bool together(const Neighbours& of, int cut, bool by_clock, const std::vector<int>& sides) const {
    const int first = of.before == cut && !by_clock ? second_half() : of.before;
    return sides[at(first)] == sides[at(of.after)] || sides[at(first)] != sides[at(cut)] ||
           sides[at(of.after)] != sides[at(second_half())];
  }

  std::vector<Hold::Stretch> beyond(int cut, const Extent& gap, const std::vector<int>& sides) const {
    const double length = to_seconds(clips_[at(cut)].length);
    const Node& held = now_.graph.nodes[at(now_.solved.held[at(lies_[at(cut)].component)])];
    const bool held_before = (held.from + held.to) / 2 < (gap.from + gap.to) / 2;
    const int held_side = sides[at(held.clip != cut ? held.clip : held_before ? cut : second_half())];
    const bool second_goes = held_side != sides[at(second_half())];
    std::vector<Hold::Stretch> found{{cut, second_goes ? Extent{gap.from, length} : Extent{0, gap.to}}};
    const int gone = sides[at(second_goes ? second_half() : cut)];
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
      if (clip != cut && sides[at(clip)] == gone) found.push_back({clip, {0, to_seconds(clips_[at(clip)].length)}});
    }
    return found;
  }

  const std::vector<ClipInput>& clips_;
  const Trial& now_;
  std::vector<Lie> lies_;
  std::vector<std::vector<Extent>> gaps_;  // by clip
  std::vector<const ClockHint*> stamps_;
  std::vector<Ends> edges_;
  std::vector<double> lost_;  // by clip
  std::vector<Neighbours> neighbours_;
};

}  // namespace

std::vector<Hold> find_holds(const std::vector<ClipInput>& clips, const Splits& splits, const Trial& now) {
  return Holds{clips, splits, now}.find();
}

Note note_of(const Hold& hold) {
  return {.kind = Note::Kind::dropout,
          .clip_at = ClipTime{from_seconds((hold.gap.from + hold.gap.to) / 2)},
          .length = from_seconds(hold.seconds),
          .loose = from_seconds(hold.gap.length() / 2),
          .supposed = hold.why,
          .clash = hold.before,
          .clash_2 = hold.after};
}

}  // namespace jigtime::sync
