// How wide and high the formed head of a solid rivet is to be, as named bands. They differ: all are returned.
// Must never know: a measured rivet; nothing here says good or bad.
// Begin reading at: formed_heads_for.
#pragma once

#include <string_view>
#include <vector>

#include "handbook/source.h"

namespace jigtime::handbook {

/// Inches; 0 where the rule sets no such bound.
struct HeadBand {
  std::string_view rule;
  double diameter_min_in = 0;
  double diameter_max_in = 0;
  double height_min_in = 0;
  double height_max_in = 0;
  Source source;
};

/// Empty below 2 or above 12 thirty-seconds.
std::vector<HeadBand> formed_heads_for(int diameter_32nds);

}  // namespace jigtime::handbook
