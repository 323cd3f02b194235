// Where exactly two clips jump against each other.
// Must never know: how the jump was found.
#pragma once

#include "sync/fine.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// Moves the end of `before` and the beginning of `after` to the jump between them, by short windows along the clip
/// that lost time (the one whose time is behind after the jump), each asked which of the two lines it is on. In a
/// stretch without sound the middle of it is taken, and `after.loose` says how far it reaches.
void narrow_jump(FineMatcher& matcher, const Hearing& a, const Hearing& b, Segment& before, Segment& after);

}  // namespace jigtime::sync
