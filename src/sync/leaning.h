// Whether windows that are loud and show no clear lag bear a line out all the same, taken together.
// Must never know: samples, which clips.
//
// Noise hides single windows first: along a true line even those that show nothing clear still lean to it, and their
// sum tells. A song of another day fits where it is heard, but the work beside and over it does not lean at all.
#pragma once

#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// Of the segment's windows that do not agree, those in which either clip hears at least half of what it hears where
/// they do: whether they lean to its line, those beside the segment by themselves too, and so what is louder than all
/// that agrees. False with fewer than two of them, and where both clips hear so much that no noise can hide it.
/// Precondition: the segment's glimpses are those of the map's windows.
bool loud_leans(const LagMap& map, const Segment& segment);

}  // namespace jigtime::sync
