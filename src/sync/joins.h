// Losses where the parts of a recording meet.
// Must never know: samples, clocks.
//
// A recorder that closes one file and opens the next loses the same time at every join, or none (common practice, no
// source). So a loss that may lie at a join lies there; and where several joins lost the same, those of which no pair
// heard both sides lost it too.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"
#include "sync/steps.h"

namespace jigtime::sync {

/// Moves losses of at most two seconds to the join that lies in the stretch where they may be, if but one does and no
/// other loss may be there. `splits`: by clip, in order, and they stay so.
void move_to_joins(const std::vector<ClipInput>& clips, std::vector<std::vector<Split>>& splits);

/// Adds what two joins or more of a recording lost alike at those of which no pair heard both sides, where no pair
/// heard a join that lost nothing. False, with nothing changed, where there is none. `splits` as move_to_joins leaves
/// them.
bool suppose_at_joins(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                      std::vector<std::vector<Split>>& splits);

}  // namespace jigtime::sync
