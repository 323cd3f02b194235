// What every two clips of different cameras say about each other.
// Must never know: placements; nor clocks, but where sound alone proves no place (clock_talk).
// Begin reading at: compare.
#pragma once

#include <vector>

#include "sync/ears.h"
#include "sync/schedule.h"

namespace jigtime::sync {

/// Where the clips of each pair may lie against each other, by the coarse search.
/// A clip's spectra are made once for each dozen blocks of all others, so that many short clips cost little more than a
/// few long ones. Prospects come with a and b set; fills in the candidates of those in `wanted`.
void find_candidates(const Ears& ears, const std::vector<int>& wanted, const Watch& watch,
                     std::vector<Prospect>& prospects);

/// One match for each pair of clips that both can be heard, the shorter one first, in order of clips; without segments
/// where nothing was proven or the schedule passed the pair over. When stopped, what is there so far.
/// Stamps of `clips` that prove to mark ends are moved, or known not to (settle_ends).
std::vector<PairMatch> compare(const Ears& ears, std::vector<ClipInput>& clips, const Watch& watch);

}  // namespace jigtime::sync
