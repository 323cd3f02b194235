// What two clips say about each other.
// Must never know: a third clip, clocks.
// Begin reading at: PairMatcher::match.
#pragma once

#include <stop_token>
#include <vector>

#include "sync/candidates.h"
#include "sync/fine.h"
#include "sync/segment.h"

namespace jigtime::sync {

struct PairMatch {
  int a = 0;
  int b = 0;
  double overlap = 0;             ///< seconds that both clips cover if the segments are right
  std::vector<Segment> segments;  ///< in a's order and b's; empty when nothing was proven
  std::vector<Segment> rivals;    ///< two places of which neither is much better; then segments is empty
};

/// A clip as the pair steps see it.
struct Hearable {
  const Frames* frames = nullptr;
  const Hearing* hearing = nullptr;
  double from = 0;  ///< clip seconds where its sound begins and ends
  double to = 0;
};

/// Seconds of a clip.
struct Stretch {
  double from = 0;
  double to = 0;
  double length() const { return to - from; }
};

/// One object for each thread.
class PairMatcher {
 public:
  PairMatcher();
  /// Every step for one pair. `range` limits the lags, none tries all.
  PairMatch match(const Hearable& a, const Hearable& b, const LagRange* range, const std::stop_token& stop);

 private:
  std::vector<Segment> prove(const Hearable& a, const Hearable& b, const Candidate& candidate, const Stretch& within);
  /// Before and after what is proven, a clip that lost time lies on another line: too little of the whole to be proven
  /// over all of it, but not over its own stretch. Adds what it finds.
  void look_beside(const Hearable& a, const Hearable& b, std::vector<Segment>& proven);
  FineMatcher& matcher_for(double overlap);

  BlockSearch coarse_;
  FineMatcher long_, middle_, short_, wide_;
};

}  // namespace jigtime::sync
