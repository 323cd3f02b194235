// The doubt of a placement around a loss of which it is not known where it lies.
// Must never know: samples, clocks.
#pragma once

#include <vector>

#include "base/piece.h"
#include "sync/steps.h"

namespace jigtime::sync {

/// Parts the pieces, in order of clip time, where nothing was heard that tells on which side of the loss they are (by
/// Split::loose), and gives that stretch a standard error of half of what was lost: either side is right as far as the
/// middle is, so that half is the root of the mean square. What the pieces' own errors tell is added to it.
void doubt_around(const Split& loss, std::vector<Piece>& pieces);

/// Parts the pieces at the stretch's ends and adds a standard error to what lies in it, all in seconds.
void doubt_within(double from, double to, double sigma, std::vector<Piece>& pieces);

}  // namespace jigtime::sync
