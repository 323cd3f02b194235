// Where a single clip holds two stretches of a session together, and something says that it lost time there.
// Must never know: samples.
//
// A camera that loses time while no other hears the same parts the session unseen: what was heard before and what was
// heard after hang together by that clip alone, and lie off against each other by what was lost. Where one more camera
// filmed on both sides, two things show it: it would have filmed two clips at once for a moment, or by its clock more
// time passed between them than as they lie. Neither tells enough to move anything: the overlap is only the least that
// was lost, and a clock may have been set. But it is no longer sure where one side lies.
#pragma once

#include <vector>

#include "sync/hearable.h"
#include "sync/line_up.h"
#include "sync/steps.h"
#include "sync/unheard.h"

namespace jigtime::sync {

struct Hold {
  int clip = 0;
  Extent gap;          ///< the longest stretch of it that holds the two together, clip seconds: nobody else heard it
  double seconds = 0;  ///< that may be missing there
  Note::Supposed why = Note::Supposed::no;
  int before = 0;  ///< the camera's clips that tell so
  int after = 0;
  struct Stretch {
    int clip = 0;
    Extent within;  ///< clip seconds
  };
  std::vector<Stretch> beyond;  ///< all on the side on which the session does not hang, and the gap
};

/// One for each stretch at the most, by the larger word; only where that clip, and no other, holds the two together
/// (what the solution left out counts as holding: then the clip is no single hold). A clock is not heard where any
/// other's, the holding camera's own too, says that no such time passed.
std::vector<Hold> find_holds(const std::vector<ClipInput>& clips, const Splits& splits, const Trial& now);

/// For its clip.
Note note_of(const Hold& hold);

}  // namespace jigtime::sync
