// Labels of narrow bars, in one line below their row, without two of them touching.
// Must never know: what the labels say.
// Begin reading at: place_leaders.
#pragma once

#include <vector>

#include "report/layout.h"

namespace jigtime::report {

inline constexpr double leader_row_height = 15;

struct Extent {
  double from = 0;
  double to = 0;
};

/// Sets text_x and text_y of those that find room within `chart` near their bar; takes the others out and returns how
/// many those are.
int place_leaders(std::vector<Leader>& leaders, Extent chart, double baseline, double font_size);

}  // namespace jigtime::report
