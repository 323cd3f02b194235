#include "sync/joins.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double at_join = 1;       // seconds: shorter windows tell the place of a jump no better
constexpr double either_side = 3;   // seconds beyond which a pair's pieces lie before and after a join
constexpr double same_hole = 0.03;  // seconds
/// Seconds. A recorder that needed longer would have begun another recording; where more is missing about a join it may
/// have been lost anywhere there.
constexpr double longest_hole = 2;
constexpr double longest_stretch = 30;  // seconds to either side: of longer ones a join tells little
constexpr std::size_t fewest_told = 2;

bool lies_about(const Split& split, double join) { return std::abs(split.at - join) <= std::max(split.loose, at_join); }

bool may_be_hole(const Split& split) {
  return split.seconds > 0 && split.seconds <= longest_hole && split.loose <= longest_stretch;
}

std::vector<double> joins_of(const ClipInput& clip) {
  std::vector<double> joins;
  for (const ClipTime join : clip.joins) joins.push_back(to_seconds(join));
  return joins;
}

/// Whether a pair has pieces before and after the join: of what was lost between them it has told.
bool heard_about(const PairMatch& match, int clip, double join) {
  if (match.segments.empty() || (match.a != clip && match.b != clip)) return false;
  const auto here = [&](const Segment& segment, double t) { return match.a == clip ? t : t + segment.fit.line(t); };
  const Segment &first = match.segments.front(), &last = match.segments.back();
  return here(first, first.from) < join - either_side && here(last, last.to) > join + either_side;
}

}  // namespace

void move_to_joins(const std::vector<ClipInput>& clips, std::vector<std::vector<Split>>& splits) {
  for (std::size_t clip = 0; clip < clips.size(); ++clip) {
    const std::vector<double> joins = joins_of(clips[clip]);
    for (Split& split : splits[clip]) {
      const auto about = [&](double join) { return lies_about(split, join); };
      if (!may_be_hole(split) || std::ranges::count_if(joins, about) != 1) continue;
      const double join = *std::ranges::find_if(joins, about);
      const auto there_too = [&](const Split& other) { return lies_about(other, join); };
      if (std::ranges::count_if(splits[clip], there_too) != 1) continue;
      split.at = join;
      split.loose = 0;
    }
    std::ranges::sort(splits[clip], {}, &Split::at);
  }
}

bool suppose_at_joins(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                      std::vector<std::vector<Split>>& splits) {
  bool any = false;
  for (std::size_t clip = 0; clip < clips.size(); ++clip) {
    std::vector<double> silent, holes;
    bool whole = false;
    for (const double join : joins_of(clips[clip])) {
      const auto told = std::ranges::find_if(splits[clip], [&](const Split& one) { return lies_about(one, join); });
      const bool heard = std::ranges::any_of(
          matches, [&](const PairMatch& match) { return heard_about(match, static_cast<int>(clip), join); });
      if (told != splits[clip].end()) {
        if (told->at == join && told->loose == 0) holes.push_back(told->seconds);
      } else if (heard) {
        whole = true;
      } else if (join > either_side && join < to_seconds(clips[clip].length) - either_side) {
        silent.push_back(join);
      }
    }
    if (whole || silent.empty() || holes.size() < fewest_told) continue;
    const auto [least, most] = std::ranges::minmax(holes);
    if (least < least_jump || most - least >= same_hole) continue;
    const double hole = signal::median(holes);
    for (const double join : silent) splits[clip].push_back({join, hole, 0, join, join, 0, 0, true});
    std::ranges::sort(splits[clip], {}, &Split::at);
    any = true;
  }
  return any;
}

}  // namespace jigtime::sync
