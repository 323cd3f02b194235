#include "sync/unmatched.h"

#include <algorithm>

#include "signal/statistics.h"
#include "sync/judge.h"
#include "sync/pair.h"

namespace jigtime::sync {

namespace {

constexpr int fewest_loud = 4;  // windows beyond the segment, in either clip
/// Log10 of the chance that so few of them agree. Outside simulator, 70 such stretches of 38 sessions: below it lie 1
/// of 22 and 1 of 9 windows, where a clip had lost time, and 25 of 46, where drilling repeats itself; for these the
/// share.
constexpr double by_luck = -3;
constexpr double hardly_any = 0.34;  // of the share that agrees within the segment
constexpr double least_beyond = 8;   // seconds in which there are so many windows
constexpr double least_known = 30;   // seconds of the segment, to tell what is usual

/// Windows in which either clip heard as much as where they match, and how many of these agree.
struct Loud {
  int all = 0;
  int agreed = 0;
  int in_a = 0;  ///< in which it did
  int in_b = 0;
};

template <class Where>
Loud count_loud(const std::vector<Glimpse>& glimpses, const Heard& usual, const Where& where) {
  Loud loud;
  for (const Glimpse& one : glimpses) {
    if (!usual.reached_by(one, as_loud_as_usual) || !where(one)) continue;
    ++loud.all;
    loud.agreed += one.agrees ? 1 : 0;
    loud.in_a += one.in_a >= as_loud_as_usual * usual.in_a ? 1 : 0;
    loud.in_b += one.in_b >= as_loud_as_usual * usual.in_b ? 1 : 0;
  }
  return loud;
}

}  // namespace

bool parts_company(const Segment& segment, const std::vector<Glimpse>& beyond) {
  const auto usual = usual_of(segment);
  if (!usual) return false;
  const Loud known = count_loud(segment.glimpses, *usual, [&](const Glimpse& one) { return segment.covers(one.at); });
  const Loud here = count_loud(beyond, *usual, [](const Glimpse&) { return true; });
  if (known.all < fewest_loud || std::min(here.in_a, here.in_b) < fewest_loud) return false;
  const double share = static_cast<double>(known.agreed) / (known.all + 1);
  if (here.agreed > hardly_any * share * here.all) return false;
  return signal::log10_binomial_tail(here.all - here.agreed, here.all, 1 - share) <= by_luck;
}

Segment PairMatcher::glimpsed(const Pair& pair, const Segment& segment, const Extent& within) {
  const Sampling sampling{apart_over(within.length(), long_), windows_wanted, &long_};
  Segment seen = segment;
  set_shares(*pair.a.frames, *pair.b.frames, map_of(pair, segment.fit.line, within, sampling), long_.length(), seen);
  return seen;
}

void PairMatcher::look_for_unmatched(const Pair& pair, const std::vector<Segment>& pieces, PairMatch& match) {
  const auto unmatched = [&](const Segment& segment, const Extent& beyond) {
    if (beyond.length() < least_beyond || segment.to - segment.from < least_known) return false;
    const Segment there = glimpsed(pair, segment, beyond);
    // The segment's own may be of shorter windows, or of a line that was fitted anew since: asked only if need be.
    return parts_company(segment, there.glimpses) &&
           parts_company(glimpsed(pair, segment, {segment.from - half_window, segment.to + half_window}),
                         there.glimpses);
  };
  const Segment& first = pieces.front();
  const Segment& last = pieces.back();
  if (unmatched(first, {overlap_of(pair.a, pair.b, first.fit.line).from, first.from})) match.unmatched_to = first.from;
  if (unmatched(last, {last.to, overlap_of(pair.a, pair.b, last.fit.line).to})) match.unmatched_from = last.to;
}

}  // namespace jigtime::sync
