// Edge distance, pitch and distance of rows in rivet diameters, and how many rivets a strip takes.
// Must never know: a drawing; published ranges differ and all are returned.
// Begin reading at: spacing_rules, then rivets_in_strip.
#pragma once

#include <span>
#include <string_view>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

enum class Distance { edge, pitch, rows };

struct SpacingRule {
  Distance what = Distance::edge;
  std::string_view when;       ///< "any head", "flush head" ...
  double least_diameters = 0;  ///< 0: the rule sets none
  double most_diameters = 0;   ///< 0: the rule sets none
  Source source;
};

std::span<const SpacingRule> spacing_rules();
std::string_view to_text(Distance what);

struct StripLayout {
  double strip_in = 0;
  double edge_in = 0;  ///< from each end to the first rivet
  double pitch_min_in = 0;
  double pitch_max_in = 0;
};

struct StripCount {
  int fewest = 0;
  double fewest_pitch_in = 0;  ///< the even pitch that so many rivets get
  int most = 0;
  double most_pitch_in = 0;
};

/// Evenly pitched rivets in one row with one at each edge distance. Error invalid when the lengths are no layout, or
/// when no even pitch lies within the bounds.
Result<StripCount> rivets_in_strip(const StripLayout& layout);

}  // namespace jigtime::handbook
