// Jumps of a blow or two, of which one pair alone cannot tell whether its line only moved to the blow beside.
// Must never know: samples, clocks.
#pragma once

#include <vector>

#include "sync/pair.h"

namespace jigtime::sync {

/// Puts back what pairs left out of their segments (PairMatch::with_blows), where another pair hears the same clip lose
/// as much at the same time against a third clip; or where two parts of its recording meet, if as much was lost where
/// two others meet.
void believe_agreed(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches);

}  // namespace jigtime::sync
