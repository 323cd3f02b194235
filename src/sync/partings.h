// Where the clips of a pair part company: both go on hearing things, but no longer the same.
// Must never know: samples, clocks.
#pragma once

#include "sync/solve.h"

namespace jigtime::sync {

/// Seconds: standard error of what a camera that stopped for a while unheard may have lost. Common practice, no source:
/// most are back within a minute.
inline constexpr double unheard_loss_sigma = 30;

/// A stretch of a clip of which nobody knows whether anything was lost at its near end.
struct Parting {
  int clip = 0;
  int other = 0;        ///< the clip with which it parts company
  double at = 0;        ///< clip seconds
  bool before = false;  ///< the stretch lies before `at`, up to the clip's beginning; else after it, up to its end
};

/// Of each pair that the solution believes and that goes on unmatched (PairMatch::unmatched_from), either clip: which
/// of them stopped, if any did, nobody knows. Not where a loss that is known of one of the two explains it, and not a
/// clip of which a tie or others that do not hang on its stretch alone tell where it lies beyond. One for each side of
/// a clip.
std::vector<Parting> find_partings(const std::vector<PairMatch>& matches, const std::vector<std::vector<Split>>& splits,
                                   const Graph& graph, const Solved& solved);

}  // namespace jigtime::sync
