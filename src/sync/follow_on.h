// Clips that begin where their camera's one before ended, as the parts of one recording do that a camera split.
// Must never know: samples, clocks.
//
// What is doubted of a clip's place, as it may be a song of two days, is told from that by the places of its camera's
// clips before and after it: by chance it hardly fits between them to a second.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// Doubted pairs, by number, that put a clip right after the one that its camera numbered before it, or right before
/// the next: the other clip of the pair must be proven to have heard that one too.
std::vector<int> following_on(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches);

}  // namespace jigtime::sync
