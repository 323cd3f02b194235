// Losses where the parts of a recording meet.
// Must never know: samples, clocks.
//
// A recorder that closes one file and opens the next loses the same time at every join, or none (common practice, no
// source). So a loss that is told about there is at the join itself; and where several joins lost the same, those
// across which no pair heard anything lost it too.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"
#include "sync/steps.h"

namespace jigtime::sync {

/// `splits`: by clip, in order, as find_splits gives them for these matches.
void settle_joins(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                  std::vector<std::vector<Split>>& splits);

}  // namespace jigtime::sync
