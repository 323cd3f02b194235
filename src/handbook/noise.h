// How long published rules allow a steady level of noise. They differ: all three are named.
// Must never know: a camera's sound. Its level is not a sound level meter's and must never be turned into a number
// here. Begin reading at: noise_allowances.
#pragma once

#include <string_view>
#include <vector>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct NoiseAllowance {
  std::string_view rule;
  double hours = 0;       ///< may exceed a day at low levels: that is the formula, not an advice
  std::string_view note;  ///< a whole sentence, or empty
  Source source;
};

/// For a level measured in dBA. Error invalid outside 60 to 140 dBA.
Result<std::vector<NoiseAllowance>> noise_allowances(double level_dba);

}  // namespace jigtime::handbook
