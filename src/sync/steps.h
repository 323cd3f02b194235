// Which clip lost the time by which two clips jump against each other.
// Must never know: samples.
#pragma once

#include <vector>

#include "sync/pair.h"

namespace jigtime::sync {

/// A place where a clip jumps: real time that it did not record.
struct Split {
  double at = 0;       ///< clip seconds
  double seconds = 0;  ///< lost; negative when the clip holds more than really passed
  int pairs = 0;       ///< how many pairs show it
  // Between these clip seconds each of them has heard nothing that tells the sides apart for sure.
  double earliest = 0;
  double latest = 0;
  double loose = 0;       ///< seconds by which it may lie earlier or later, as far as anything was heard that tells
  double unsure = 0;      ///< seconds by which more or less may be lost: of a blow beside nearly as much speaks
  bool supposed = false;  ///< no pair heard it; as much was lost at the recording's other joins
};

/// For each clip its splits, in order. A recorder that fails loses time and does not invent it: of two clips that jump
/// against each other the one that lost has the earlier time after the jump.
std::vector<std::vector<Split>> find_splits(const std::vector<PairMatch>& matches, int clips);

}  // namespace jigtime::sync
