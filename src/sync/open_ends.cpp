#include "sync/open_ends.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"

namespace jigtime::sync {

namespace {

constexpr double either_side = 10;  // seconds on both sides of a place that a segment must reach to lie across it
constexpr double beside = 15;       // seconds: a loss that is known so near to the place is what parts them

/// A pair's clips, and where in either they part company.
struct Parting {
  int a = 0;
  int b = 0;
  double at_a = 0;
  double at_b = 0;
  bool before = false;  ///< what lies before is in doubt, else what lies after
};

std::vector<Parting> partings(const std::vector<PairMatch>& matches) {
  std::vector<Parting> all;
  for (const PairMatch& match : matches) {
    if (match.segments.empty()) continue;
    const auto add = [&](const Segment& segment, double t, bool before) {
      all.push_back({match.a, match.b, t, t + segment.fit.line(t), before});
    };
    if (match.unmatched_to > 0) add(match.segments.front(), match.unmatched_to, true);
    if (match.unmatched_from < 1e9) add(match.segments.back(), match.unmatched_from, false);
  }
  return all;
}

bool heard_across(const std::vector<PairMatch>& matches, int clip, double t) {
  const auto across = [&](double from, double to) { return from <= t - either_side && to >= t + either_side; };
  return std::ranges::any_of(matches, [&](const PairMatch& match) {
    return std::ranges::any_of(match.segments, [&](const Segment& one) {
      return (match.a == clip && across(one.from, one.to)) ||
             (match.b == clip && across(one.from + one.fit.line(one.from), one.to + one.fit.line(one.to)));
    });
  });
}

bool split_near(const std::vector<Split>& splits, double t) {
  return std::ranges::any_of(splits, [&](const Split& one) { return std::abs(one.at - t) <= beside + one.loose; });
}

void add(Split split, std::vector<Split>& splits) {
  const auto later = [&](const Split& one) { return one.at > split.at; };
  splits.insert(std::ranges::find_if(splits, later), split);
}

}  // namespace

void add_open_ends(const std::vector<PairMatch>& matches, std::vector<std::vector<Split>>& splits) {
  const std::vector<std::vector<Split>> known = splits;
  for (const Parting& one : partings(matches)) {
    if (split_near(known[at(one.a)], one.at_a) || split_near(known[at(one.b)], one.at_b)) continue;
    const auto open = [&](int clip, double t, int other) {
      if (heard_across(matches, clip, t) || split_near(splits[at(clip)], t)) return;
      Split split{.at = t, .pairs = 1, .earliest = t, .latest = t};
      split.open = unheard_loss_sigma;
      split.other = other;
      split.before = one.before;
      add(split, splits[at(clip)]);
    };
    open(one.a, one.at_a, one.b);
    open(one.b, one.at_b, one.a);
  }
}

}  // namespace jigtime::sync
