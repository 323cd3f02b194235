// From windows on a proven line to single lags with weights.
// Must never know: how the line was found.
#pragma once

#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// What the windows say near the line: one observation for each window that stands out by itself, or for each group of
/// neighbours where only their sum does.
Segment observe(const LagMap& map, const Stretch& stretch, const Backings& backings);

/// `map` holds short windows around the segment's line, in which one place after the other is heard where longer ones
/// hear only the loudest. Replaces the observations if they do not all come the same way.
void tell_places_apart(const LagMap& map, Segment& segment);

}  // namespace jigtime::sync
