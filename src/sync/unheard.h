// A loss of which no pair heard both sides: three clips contradict each other over it.
// Must never know: samples, clocks.
//
// A clip that lost time meets one clip before its loss and another one after it. Each pair is right by itself; only
// where the two others met as well do they not fit together. A recorder that fails loses time and does not invent it:
// of all places between what the clips heard, mostly but one is left at which a loss makes everything fit.
#pragma once

#include <functional>
#include <vector>

#include "sync/graph.h"
#include "sync/hearable.h"
#include "sync/solve.h"

namespace jigtime::sync {

using Splits = std::vector<std::vector<Split>>;  ///< by clip

/// All clips at once, if these were the losses.
struct Trial {
  Graph graph;
  Solved solved;
};
using SolveWith = std::function<Trial(const Splits&)>;

/// Clip seconds where, of all that edges heard of the clip, one ends before the next begins, or at the most `shared`
/// seconds after it does.
std::vector<Extent> gaps_between(const Graph& graph, int clip, double shared = 0);

/// Whether `more` leaves out no pair that `now` does not leave out.
bool leaves_out_no_more(const Trial& more, const Trial& now);

/// Of the pairs that the solution `now` had to leave out, the best proven one that a loss in one clip, and in no other,
/// makes fit without another being left out for it: adds that loss to the splits. False, with nothing changed, where
/// there is none.
bool add_unheard(const Trial& now, const SolveWith& solve_with, Splits& splits);

}  // namespace jigtime::sync
