// Time that must have been lost where a single clip holds two stretches of a session together.
// Must never know: samples.
//
// A camera that loses time while no other hears the same parts the session unseen: what was heard before and what was
// heard after hang together by that clip alone, and lie off against each other by what was lost. Where one more camera
// filmed on both sides, two things show it: it would have filmed two clips at once for a moment, or by its clock more
// time passed between them than by the sound.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/unheard.h"

namespace jigtime::sync {

/// If two clips of a camera tell so by where `now` puts them, and one clip, and no other, held them together while it
/// heard nothing with any other: adds that loss to the splits, as supposed, and true. Its standard error is all of it:
/// the clock may have been set in between, and clips that would overlap tell only the least that was lost.
bool add_missing(const std::vector<ClipInput>& clips, const Trial& now, Splits& splits);

}  // namespace jigtime::sync
