// Which rivet diameter a sheet asks for, by every published rule of thumb; none is chosen.
// Must never know: a drawing; the plans say which diameter.
// Begin reading at: diameters_for_sheet.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct DiameterRule {
  std::string_view rule;  ///< "about 3 times the thickest sheet" ...
  double least_in = 0;    ///< 0: the rule sets none
  double most_in = 0;     ///< 0: the rule sets none; equal to least_in where the rule names one value
  /// The standard diameters around a single value; 0 where the rule is a range. Worked examples in print go up.
  int nearest_32nds = 0;
  int next_up_32nds = 0;
  Source source;
};

/// Error invalid for a sheet that is not above 0 and at most 1/2 in.
Result<std::vector<DiameterRule>> diameters_for_sheet(double thickest_sheet_in);

struct DiameterNote {
  std::string_view text;  ///< a whole sentence
  Source source;
};
/// Rules that need more than the sheet: the least diameter in structure, stringers, tubes.
std::span<const DiameterNote> diameter_notes();

}  // namespace jigtime::handbook
