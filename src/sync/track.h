// Follows the lag along a pair and finds the places where it jumps.
// Must never know: samples, which clip lost time.
#pragma once

#include <span>
#include <vector>

#include "sync/line.h"

namespace jigtime::sync {

/// Consecutive windows on one line.
struct Run {
  std::vector<Observation> observations;
};

struct TrackRules {
  double same = 0.025;    ///< lags that differ by less, slope aside, are sources in different places, not a jump
  double jump_price = 4;  ///< in windows: a jump must make that many more windows agree
  double miss_price = 1;  ///< of a window that agrees with nothing
  int least_windows = 3;  ///< on either side of a jump
  double least_z = 5;
};

/// The stretch of a run over which windows agree with its line more often than not: a window that happens to fit far
/// away does not lengthen it. Empty when there is none.
Run without_strays(const Run& run, std::span<const Window> windows, const TrackRules& rules);

/// The cheapest path through the windows' peaks (dynamic programming); pieces shorter than least_windows are left out.
/// Windows are in order of time.
std::vector<Run> follow(std::span<const Window> windows, const Line& guess, const TrackRules& rules);

}  // namespace jigtime::sync
