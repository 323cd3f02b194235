// Lines that the votes of several blocks agree on.
// Must never know: samples.
#pragma once

#include <vector>

#include "sync/block_search.h"
#include "sync/line.h"

namespace jigtime::sync {

inline constexpr double least_score = 4.5;  ///< of a candidate worth comparing samples

struct Candidate {
  Line line;
  double slope_reach = 0;  ///< how far the slope may still be off
  double from = 0;         ///< middles of the first and last block that voted, clip seconds of a
  double to = 0;
  double score = 0;  ///< root of the sum of z squared over the blocks
  int blocks = 0;
};

/// Votes that most others may lie with first, each with the line through it that explains most; best first, at most
/// `count`, no two within 0.12 s of each other over the blocks they share.
std::vector<Candidate> gather(std::vector<std::vector<Vote>> votes, int count);

}  // namespace jigtime::sync
