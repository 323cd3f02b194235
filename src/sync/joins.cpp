#include "sync/joins.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double at_join = 1;       // seconds: shorter windows tell the place of a jump no better
constexpr double either_side = 3;   // seconds a pair must have heard without a jump, for the join to be whole
constexpr double same_hole = 0.03;  // seconds
constexpr std::size_t fewest_told = 2;

bool tells_of(const Split& split, double join) { return std::abs(split.at - join) <= std::max(split.loose, at_join); }

/// A stretch that one pair heard on one line, in the clip's seconds.
bool heard_across(const PairMatch& match, int clip, double join) {
  return std::ranges::any_of(match.segments, [&](const Segment& segment) {
    const auto here = [&](double t) { return match.a == clip ? t : t + segment.fit.line(t); };
    return here(segment.from) < join - either_side && here(segment.to) > join + either_side;
  });
}

void settle(const ClipInput& input, int clip, const std::vector<PairMatch>& matches, std::vector<Split>& splits) {
  std::vector<double> silent, holes;
  bool whole = false;
  for (const ClipTime when : input.joins) {
    const double join = to_seconds(when);
    const auto told = std::ranges::find_if(splits, [&](const Split& split) { return tells_of(split, join); });
    if (told != splits.end()) {
      told->at = join;
      told->loose = 0;
      holes.push_back(told->seconds);
    } else if (std::ranges::any_of(matches, [&](const PairMatch& match) {
                 return (match.a == clip || match.b == clip) && heard_across(match, clip, join);
               })) {
      whole = true;
    } else {
      silent.push_back(join);
    }
  }
  if (whole || holes.size() < fewest_told) return;
  const double hole = signal::median(holes);
  const auto alike = [&](double one) { return std::abs(one - hole) < same_hole; };
  if (hole < least_jump || !std::ranges::all_of(holes, alike)) return;
  for (const double join : silent) splits.push_back({join, hole, 0, join, join, 0, 0, true});
  std::ranges::sort(splits, {}, &Split::at);
}

}  // namespace

void settle_joins(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                  std::vector<std::vector<Split>>& splits) {
  for (std::size_t i = 0; i < clips.size(); ++i) settle(clips[i], static_cast<int>(i), matches, splits[i]);
}

}  // namespace jigtime::sync
