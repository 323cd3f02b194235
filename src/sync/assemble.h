// Puts what was solved on one session clock: groups against each other, what hands and clocks say, and says it in the
// form of the door.
// Must never know: samples.
#pragma once

#include <vector>

#include "sync/one_at_a_time.h"
#include "sync/one_hold.h"
#include "sync/partings.h"
#include "sync/solve.h"

namespace jigtime::sync {

struct Findings {
  std::vector<PairMatch> matches;
  std::vector<Refused> refused;
  std::vector<std::vector<Split>> splits;  ///< by clip
  Graph graph;
  Solved solved;
  std::vector<Parting> partings;
  std::vector<Hold> holds;
  std::vector<bool> silent;  ///< by clip
  int reference = 0;
};

LineUp assemble(const std::vector<ClipInput>& clips, int cameras, const Findings& findings);

}  // namespace jigtime::sync
