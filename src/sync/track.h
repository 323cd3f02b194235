// Follows the lag along a pair and finds the places where it jumps.
// Must never know: samples, which clip lost time.
#pragma once

#include <vector>

#include "sync/lag_map.h"

namespace jigtime::sync {

/// Windows [first, last] of the map, on one line.
struct Run {
  Stretch windows;
  Line line;
  double score = 0;  ///< evidence above luck
};

struct TrackRules {
  std::vector<double> joins;  ///< clip seconds of a at which a jump is more likely
  double least_jump = 0.028;  ///< seconds; what differs by less is a source in another place
};

/// The path of most evidence through the map's cells (dynamic programming), from `line`'s lags within the map's reach:
/// a price for every jump, and for going off where nothing agrees. In order of time; neighbours differ by least_jump
/// or more where they meet.
std::vector<Run> follow(const LagMap& map, const Line& line, const TrackRules& rules);

}  // namespace jigtime::sync
