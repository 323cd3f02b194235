// A proven stretch of a pair.
#pragma once

#include <vector>

#include "sync/line.h"

namespace jigtime::sync {

/// A stretch of clip a that clip b hears too, with nothing lost in between.
struct Segment {
  double from = 0;  ///< clip seconds of a over which windows agreed
  double to = 0;
  Fit fit;
  std::vector<Observation> observations;
  int windows = 0;
  int agreed = 0;
  double log10_chance = 0;
  double z = 0;  ///< of the coarse search
};

}  // namespace jigtime::sync
