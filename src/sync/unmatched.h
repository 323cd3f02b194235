// Before and after what a pair is proven to have heard in common: whether the two go on hearing things there of which
// none fits the line.
// Must never know: samples, a third clip.
#pragma once

#include <vector>

#include "sync/segment.h"

namespace jigtime::sync {

/// Whether what both heard beyond the segment, as loud in either as where they match, should have borne its line out
/// and does not: either then lost time of which it is not known how much. Both lists of glimpses are of the same line.
bool lost_beyond(const Segment& segment, const std::vector<Glimpse>& beyond);

}  // namespace jigtime::sync
