// Clips that begin where their camera's one before ended, as the parts of one recording do that a camera split.
// Must never know: samples.
//
// What is doubted of a clip's place, as it may be a song of two days, is told from that by the place of its camera's
// clip before or after it: by chance it hardly begins where that one ends, to a second. Where a clock tells of the
// clip, it is asked instead.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// Doubted pairs, by number, that put a clip right after the one that its camera numbered before it, or right before
/// the next: the other clip of the pair must be proven to have heard that one too. None of a clip whose clock tells
/// when it began, or that would lie over one of these.
std::vector<int> following_on(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches);

}  // namespace jigtime::sync
