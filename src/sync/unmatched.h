// Before and after what a pair is proven to have heard in common: whether the two go on hearing things there, but no
// longer the same.
// Must never know: a third clip.
#pragma once

#include <vector>

#include "sync/segment.h"

namespace jigtime::sync {

/// Whether what both heard beyond the segment, as loud as where they match, should have borne its line out and hardly
/// any of it does: one of them stopped for a while, or was carried away. Both lists of glimpses are of the same line,
/// of windows as long as each other.
bool parts_company(const Segment& segment, const std::vector<Glimpse>& beyond);

}  // namespace jigtime::sync
