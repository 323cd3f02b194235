// What cameras cannot have done: one of them film two clips at once, or a later clip first; two of them be set on by
// the same time between the same clips.
// Must never know: samples.
// Begin reading at: without_clashes.
//
// Where a song or a phrase is heard twice, two clips may fit that never ran together. What else is known of the camera
// often tells: its other clips, which sound has placed too, would then have run at the same time, or in another order
// than the one in which it numbered and dated them. No clock is believed for that: its readings and the numbers must
// agree, and leave each clip the time it took: files that were written anew are dated in the order of the writing,
// faster than they were filmed. And where two cameras' clocks, each by itself, say that what sound puts a minute apart
// lay an hour apart, they are believed: one clock may be set anew, two hardly ever by as much.
#pragma once

#include <functional>
#include <optional>
#include <stop_token>
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

/// Whether the camera surely filmed `first` before `second`, by its numbers and its clock. One that began anew tells
/// nothing, and its numbers may be made of it; nor does one that went on by months.
bool surely_before(const ClipInput& first, const ClipInput& second);

/// A pair of clips that cannot have run together.
struct Refusal {
  int match = 0;
  std::optional<int> segment;  ///< only that one of its segments, whose place another of them contradicts; else all
  Clash clash;
};

enum class Blame { pairs, losses_too };

/// Of what ties two clips together that cannot lie so, the weakest pair, and the others that are hardly stronger: of
/// them it is not known which is wrong; and the same for further such clips that none of these ties together. Where one
/// of the first two is said to have lost time by something weaker still, and losses are to blame too, that alone. Empty
/// where nothing clashes, or nothing but ties by hand do. `matches` are those of the graph.
std::vector<Refusal> refuse_clashes(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                                    const Trial& now, Blame blame = Blame::losses_too);

/// What two clips had in common, and why they do not lie so.
struct Refused {
  int a = 0;
  int b = 0;
  Segment segment;
  Clash clash;
};

/// What is left of what pairs said, without what cannot be.
struct Cleared {
  std::vector<PairMatch> matches;  ///< those taken out have no segments left
  std::vector<Refused> refused;
  bool in_question = false;  ///< too much would have had to go: nothing was taken out
  Trial trial;               ///< all clips at once, by these matches
};

/// Takes pairs out until nothing clashes, and a loss instead where that is enough. Where more than three would have to
/// go, and more than half of all that are proven, what is known of the cameras must be wrong: a clock that runs in
/// recordings only, or that was put right on all of them at once; or two cameras' clips that were imported as one's.
Cleared without_clashes(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches,
                        const std::function<Trial(const std::vector<PairMatch>&)>& solve_with,
                        const std::stop_token& stop);

}  // namespace jigtime::sync
