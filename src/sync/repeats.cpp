// Whether what two clips have in common is a song that repeats itself.
#include <algorithm>
#include <cmath>
#include <iterator>

#include "sync/echoes.h"
#include "sync/judge.h"
#include "sync/pair.h"

namespace jigtime::sync {

namespace {

constexpr int most_bars = 4;  // other places tried
/// Of the share of blows that agree along the line, elsewhere. In the tests' work of one day it is less than half of it
/// a second beside (echoes_test); not measured elsewhere.
constexpr double as_many_blows = 0.75;
constexpr int fewest_to_tell = 16;

}  // namespace

/// Rises of loudness may be as alike in other work of the day; single blows are not. The candidates at `main`, those
/// that luck may have and those along which about as many blows agree, where along main's line they are the `share`, or
/// too few to tell; all where that is 0.
std::vector<Candidate> PairMatcher::where_blows_agree(const Pair& pair, std::span<const Candidate> candidates,
                                                      const Segment& main, double share) {
  const double middle = (main.from + main.to) / 2;
  std::vector<Candidate> some;
  for (const Candidate& one : candidates) {
    const bool at_main = std::abs(one.line(middle) - main.fit.line(middle)) < another_bar;
    const auto agree = [&] {
      // The coarse search knows a place well, but hardly a slope.
      const double heard_at = (one.from + one.to) / 2;
      Segment there;
      there.fit.line = {heard_at, one.line(heard_at), main.fit.line.slope};
      const Extent both = overlap_of(pair.a, pair.b, there.fit.line);
      there.from = both.from;
      there.to = both.to;
      const Blows blows = blows_along(*pair.a.frames, *pair.b.frames, {&there, 1}, both);
      return blows.events() < fewest_to_tell || blows.share_heard() >= as_many_blows * share;
    };
    if (at_main || share == 0 || one.score < more_than_luck || agree()) some.push_back(one);
  }
  return some;
}

/// Music agrees with itself bar by bar, and the coarse search sees that already. The other places are looked at only if
/// anything gives cause to doubt the first.
PairMatcher::Repeats PairMatcher::repeats_itself(const Pair& pair, std::span<const Candidate> candidates,
                                                 std::vector<Segment> proven, const std::vector<Segment>& pieces,
                                                 const Doubt& doubt, const std::stop_token& stop) {
  Repeats repeats = only_repeats(proven, as_well) ? Repeats::as_well
                    : only_repeats(proven)        ? Repeats::less_well
                                                  : Repeats::no;
  if (repeats == Repeats::as_well || doubt.share < doubtful) return repeats;
  const Segment main = strongest(proven);
  if (!doubt.alone && likely_elsewhere(where_blows_agree(pair, candidates, main, doubt.blows), pieces)) {
    return Repeats::as_well;
  }
  const double middle = (main.from + main.to) / 2;
  int tried = 0;
  for (const Candidate& candidate : candidates) {
    if (tried == most_bars || stop.stop_requested()) break;
    if (std::abs(candidate.line(middle) - main.fit.line(middle)) < another_bar) continue;
    ++tried;
    std::ranges::move(follow_candidate(pair, candidate, overlap_of(pair.a, pair.b, candidate.line), Known::nothing),
                      std::back_inserter(proven));
    if (only_repeats(proven, as_well)) return Repeats::as_well;
    if (only_repeats(proven)) repeats = Repeats::less_well;
  }
  return repeats;
}

}  // namespace jigtime::sync
