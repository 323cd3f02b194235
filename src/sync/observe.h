// From windows on a proven line to single lags with weights.
// Must never know: how the line was found.
#pragma once

#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// What the windows say near the line: one observation for each window that stands out by itself, or for each group of
/// neighbours where only their sum does.
Segment observe(const LagMap& map, const Stretch& stretch, const Backings& backings);

}  // namespace jigtime::sync
