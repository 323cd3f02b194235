#include "sync/one_hold.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "sync/at.h"
#include "sync/clocks.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

// Seconds.
constexpr double least_at_once = 0.1;  // beyond four standard errors: a file may end with a moment of the next one
constexpr double least_by_clock = 5;   // two stamps, each a second or two late

/// What is missing between two clips of one camera, in order.
struct Missing {
  int before = 0;
  int after = 0;
  double seconds = 0;
  Split::Why why = Split::Why::clock;
};

class Holds {
 public:
  Holds(const std::vector<ClipInput>& clips, const Trial& now) : clips_{clips}, now_{now}, spans_(clips.size()) {
    const auto& nodes = now.graph.nodes;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      const Solved::Place& place = now.solved.places[i];
      Span& span = spans_[at(nodes[i].clip)];
      if (!span.told) span = {true, now.solved.component[i], place.start, 0, place.sigma};
      span.end = place.start + (nodes[i].to - nodes[i].from) * (1 + place.rate);
    }
  }

  std::vector<Missing> missing() const {
    const std::vector<const ClockHint*> stamps = good_stamps(clips_);
    std::vector<Missing> found;
    for (const auto& [before, after] : neighbours()) {
      const Span &first = spans_[at(before)], &second = spans_[at(after)];
      const double at_once = first.end - second.begin;
      if (at_once > least_at_once + 4 * std::hypot(first.sigma, second.sigma) && at_once < longest_loss) {
        found.push_back({before, after, at_once, Split::Why::at_once});
      } else if (const double more = more_by_clock(before, after, stamps); more > least_by_clock) {
        found.push_back({before, after, more, Split::Why::clock});
      }
    }
    return found;
  }

  /// The stretch of the only clip that holds the two together by nothing that anybody heard.
  std::optional<std::pair<int, Extent>> hold(const Missing& missing) const {
    std::optional<std::pair<int, Extent>> found;
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
      for (const Extent& gap : gaps_of(clip)) {
        if (together_without(missing, clip, gap)) continue;
        if (found && found->first != clip) return std::nullopt;
        if (!found) found = {clip, gap};
        found->second = {std::min(found->second.from, gap.from), std::max(found->second.to, gap.to)};
      }
    }
    return found;
  }

 private:
  /// Session seconds of a clip.
  struct Span {
    bool told = false;
    int component = 0;
    double begin = 0;
    double end = 0;
    double sigma = 0;
  };

  /// Clips of one camera that follow each other where sound puts them.
  std::vector<std::pair<int, int>> neighbours() const {
    std::vector<int> order(clips_.size());
    std::iota(order.begin(), order.end(), 0);
    std::ranges::sort(order, {}, [&](int clip) {
      const Span& span = spans_[at(clip)];
      return std::tuple{clips_[at(clip)].camera, span.component, span.begin};
    });
    std::vector<std::pair<int, int>> pairs;
    for (std::size_t i = 0; i + 1 < order.size(); ++i) {
      const int before = order[i], after = order[i + 1];
      if (clips_[at(before)].camera != clips_[at(after)].camera) continue;
      if (spans_[at(before)].component == spans_[at(after)].component) pairs.emplace_back(before, after);
    }
    return pairs;
  }

  /// Seconds that passed by the camera's clock and not by sound; 0 where its stamps say nothing.
  double more_by_clock(int before, int after, const std::vector<const ClockHint*>& stamps) const {
    const ClockHint *first = stamps[at(before)], *second = stamps[at(after)];
    if (first == nullptr || second == nullptr || first->trust != second->trust) return 0;
    if (of_factory(first->clip_zero) || of_factory(second->clip_zero)) return 0;
    const double more =
        to_seconds(second->clip_zero - first->clip_zero) - (spans_[at(after)].begin - spans_[at(before)].begin);
    // Stamps that mark ends differ by the lengths as well.
    const bool by_ends = std::abs(more - to_seconds(second->if_end - first->if_end)) <= least_by_clock;
    return more > longest_loss || by_ends ? 0 : more;
  }

  template <class Use>
  void for_each_heard(const Use& use) const {
    for (std::size_t i = 0; i < now_.graph.edges.size(); ++i) {
      const Edge& edge = now_.graph.edges[i];
      if (!now_.solved.dropped[i]) use(edge, now_.graph.nodes[at(edge.a)].clip, now_.graph.nodes[at(edge.b)].clip);
    }
  }

  /// Clip seconds between which an edge heard of the clip.
  static Extent heard_of(const Edge& edge, bool is_a) {
    const Observation &first = edge.observations.front(), &last = edge.observations.back();
    return is_a ? Extent{first.at, last.at} : Extent{first.at + first.lag, last.at + last.lag};
  }

  /// Where of all that was heard of the clip with others one ends before the next begins.
  std::vector<Extent> gaps_of(int clip) const {
    std::vector<Extent> heard;
    for_each_heard([&](const Edge& edge, int a, int b) {
      if (edge.observations.empty()) return;
      if (a == clip) heard.push_back(heard_of(edge, true));
      if (b == clip) heard.push_back(heard_of(edge, false));
    });
    std::ranges::sort(heard, {}, &Extent::from);
    std::vector<Extent> gaps;
    double to = heard.empty() ? 0 : heard.front().to;
    for (const Extent& one : heard) {
      if (one.from > to) gaps.push_back({to, one.from});
      to = std::max(to, one.to);
    }
    return gaps;
  }

  /// Whether the two hang together even if the clip is cut in the gap.
  bool together_without(const Missing& missing, int cut, const Extent& gap) const {
    const int after_cut = static_cast<int>(clips_.size());  // the clip's second half
    std::vector<int> roots(clips_.size() + 1);
    std::iota(roots.begin(), roots.end(), 0);
    const auto root = [&](int i) {
      while (roots[at(i)] != i) i = roots[at(i)] = roots[at(roots[at(i)])];
      return i;
    };
    const auto half = [&](int clip, double t) { return clip == cut && t >= gap.to ? after_cut : clip; };
    // No edge hears across a gap: any of what it heard tells on which side it is.
    for_each_heard([&](const Edge& edge, int a, int b) {
      if (edge.observations.empty()) return;
      const Observation& any = edge.observations.front();
      roots[at(root(half(a, any.at)))] = root(half(b, any.at + any.lag));
    });
    const int first = missing.before == cut && missing.why == Split::Why::at_once ? after_cut : missing.before;
    return root(first) == root(missing.after);
  }

  const std::vector<ClipInput>& clips_;
  const Trial& now_;
  std::vector<Span> spans_;
};

}  // namespace

bool add_missing(const std::vector<ClipInput>& clips, const Trial& now, Splits& splits) {
  const Holds holds{clips, now};
  for (const Missing& missing : holds.missing()) {
    const auto hold = holds.hold(missing);
    if (!hold) continue;
    const auto& [clip, gap] = *hold;
    Split split{(gap.from + gap.to) / 2, missing.seconds, 0, gap.from, gap.to, gap.length() / 2};
    split.sigma = missing.seconds;
    split.why = missing.why;
    split.told_by = {missing.before, missing.after};
    std::vector<Split>& of_clip = splits[at(clip)];
    of_clip.insert(std::ranges::upper_bound(of_clip, split.at, {}, &Split::at), split);
    return true;
  }
  return false;
}

}  // namespace jigtime::sync
