// What cameras cannot have done: one of them film two clips at once, or a later clip first; two of them be set on by
// the same time between the same clips. Must never know: samples.
//
// Where a song or a phrase is heard twice, two clips may fit that never ran together. What else is known of the camera
// often tells: its other clips, which sound has placed too, would then have run at the same time, or in another order
// than the one in which it numbered and dated them. No clock is believed for that: its readings and the numbers must
// agree, and leave each clip the time it took: files that were written anew are dated in the order of the writing,
// faster than they were filmed.
#pragma once

#include <optional>
#include <vector>

#include "sync/line_up.h"
#include "sync/unheard.h"

namespace jigtime::sync {

/// Two clips of one camera that cannot lie as the solution lays them.
struct Clash {
  int clip = 0;
  int other = 0;
  Impossible why = Impossible::at_once;
};

/// Whether the camera surely filmed `first` before `second`, by its numbers and its clock.
bool surely_before(const ClipInput& first, const ClipInput& second);

/// A pair of clips that cannot have run together.
struct Refusal {
  int match = 0;
  Clash clash;
};

/// Of what ties two clips together that cannot lie so, the weakest pair, and the others that are hardly stronger: of
/// them it is not known which is wrong. Empty where nothing clashes, or nothing but ties by hand do.
std::vector<Refusal> refuse_clashes(const std::vector<ClipInput>& clips, const Trial& now);

}  // namespace jigtime::sync
