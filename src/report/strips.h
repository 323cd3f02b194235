// The session cut into strips that are drawn one under the other, so that a long day stays legible on paper.
// Must never know: what is drawn in them, pixels.
// Begin reading at: strips_for.
#pragma once

#include <vector>

#include "base/time.h"

namespace jigtime::report {

struct Strip {
  SessionRange range;
  Length tick{0};      ///< distance of the labelled ticks; they lie on multiples of it
  Length left_out{0};  ///< time without anything between the strip before and this one
};

/// All strips have one length, taken from a list of round ones so that no more than about `wanted` of them are needed,
/// and begin on multiples of it. Stretches of nothing longer than a strip are left out. Empty for no ranges.
/// Precondition: ordered by begin; wanted >= 1.
std::vector<Strip> strips_for(const std::vector<SessionRange>& shown, int wanted);

/// Multiples of strip.tick within the strip, its end not included.
std::vector<SessionTime> ticks_of(const Strip& strip);

}  // namespace jigtime::report
