// Drills and holes for rivets, as the tables at hand give them. They differ: all are returned, none is chosen.
// Must never know: which of them the plans ask for.
// Begin reading at: holes_for.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "handbook/source.h"

namespace jigtime::handbook {

struct HoleRow {
  int diameter_32nds = 0;
  std::string_view what;   ///< "solid rivet, usual today" ...
  std::string_view drill;  ///< "#40", "F"; empty where the row gives limits only
  /// Ten-thousandths of an inch; equal where one size is given.
  int hole_min = 0;
  int hole_max = 0;
  Source source;
};

/// In the order of the tables; empty for a diameter that none of them has.
std::vector<HoleRow> holes_for(int diameter_32nds);
std::span<const HoleRow> all_holes();

struct HoleRule {
  std::string_view text;  ///< a whole sentence
  Source source;
};
/// What holds for holes of every size.
std::span<const HoleRule> hole_rules();

/// The largest burr chamfer for a sheet: 10 % of its thickness or .032 in, the smaller. Source: MIL-R-47196A as
/// restated elsewhere. Precondition: sheet_in > 0.
double largest_chamfer_in(double sheet_in);

}  // namespace jigtime::handbook
