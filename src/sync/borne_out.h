// Whether the cameras' clocks bear out what sound proves, where sound alone does not tell one day from another.
// Must never know: samples.
// Begin reading at: ask_clocks.
//
// A song is the same on two days, and so is what little is heard where much else is. But on another day a camera's
// clock is not where this day's clips put it. No clock is believed for what it shows: what counts is by how much one
// camera's clock is ahead of another's, and that pairs proven by sound tell, or several doubted ones that agree.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// Doubted pairs that clocks bear out get segments: those that put one camera's clock as far ahead of the other's as
/// proven pairs do, at once or by way of a third camera; or, where none is proven, those that agree among each other
/// that the clocks are hardly apart, or apart by whole zones, or the same far apart in the day. Of a pair that nothing
/// else ties to the session, and against which the clocks speak as two and more other pairs tell them, the segments are
/// doubted instead.
void ask_clocks(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches);

}  // namespace jigtime::sync
