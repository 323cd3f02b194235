// Where a pair's clips part company without anybody having heard what was lost.
// Must never know: samples, clocks.
#pragma once

#include "sync/steps.h"

namespace jigtime::sync {

/// Seconds: standard error of what a camera may have lost unheard. Common practice, no source: one that drops out is
/// back within a minute or two.
inline constexpr double unheard_loss_sigma = 30;

/// Adds an open split to either clip of a pair that goes on unmatched (PairMatch::unmatched_from), but for clips that
/// another pair heard across that place, and where either is known to have lost time there. Keeps the order.
void add_open_ends(const std::vector<PairMatch>& matches, std::vector<std::vector<Split>>& splits);

}  // namespace jigtime::sync
