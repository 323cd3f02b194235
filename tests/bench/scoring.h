// A line-up held against the truth.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/shop_simulator.h"
#include "sync/line_up.h"

namespace jigtime::bench {

/// The clips of one call, with the day each is of.
struct Trial {
  std::vector<SessionPlan> days;
  std::vector<SimulatedClip> clips;
  std::vector<int> day_of;
  std::vector<int> camera_of;  ///< numbered through over all days
  int cameras = 0;
};

Trial make_trial(std::vector<SessionPlan> days);

/// What one or many trials came to; add them up with +=.
struct Score {
  int sessions = 0;
  int placeable = 0;             ///< clips that share 30 s and 8 eventful seconds with another of their day
  int placed = 0;                ///< of these, on sound
  int wrong = 0;                 ///< pairs more than 50 ms off of which sigma does not warn: more than 4 of it
  std::vector<double> error_ms;  ///< of each pair that overlaps and is placed on sound: the largest in the overlap
  std::vector<double> rate_error_ppm;  ///< of pairs that share ten minutes
  int instants = 0;
  int within_1_sigma = 0;
  int within_2_sigma = 0;
  int dropouts = 0;          ///< unstamped ones of 40 ms or more that another clip heard
  int dropouts_found = 0;    ///< told, be it with a stretch in which it lies
  int dropouts_near = 0;     ///< found and placed within 2 s (or within the silence around it)
  int dropouts_swapped = 0;  ///< found, but laid to the other clip
  int dropouts_invented = 0;
  std::vector<double> clock_error_s;  ///< of clips without sound that were placed by their clock
  int clock_within_2_sigma = 0;
  int strangers = 0;  ///< pairs of different days
  int strangers_paired = 0;
  int lone = 0;         ///< clips of which no other of their day is there
  int lone_placed = 0;  ///< of these, placed on sound
  double cpu_s = 0;
  double sound_s = 0;
  std::vector<std::string> findings;  ///< one line for each thing that should not be

  Score& operator+=(const Score& other);
};

/// Session time of true instant `true_s` in clip i less that in clip j; nothing where either misses it.
std::optional<double> placement_difference_s(const Trial& trial, const sync::LineUp& result, std::size_t i,
                                             std::size_t j, double true_s);

Score score(const Trial& trial, const sync::LineUp& result);

}  // namespace jigtime::bench
