// How long published rules allow a steady level of noise. They differ: all three are named.
// Must never know: a camera's sound. Its level is not a sound level meter's and must never be turned into a number
// here. Begin reading at: noise_allowances.
#pragma once

#include <span>
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

struct Exposure {
  double level_dba = 0;
  double hours = 0;
};

struct NoiseDose {
  double percent = 0;      ///< of what the rule allows: D = 100 * sum of C / T
  double average_dba = 0;  ///< the time-weighted average over 8 h: 16.61 * log10(D / 100) + 90
  Source source;
};

/// By 29 CFR 1910.95, Appendix A, the one rule at hand whose dose formula was read. Error invalid for no exposure, a
/// level outside 60 to 140 dBA, or hours that are not above 0 and, in all, at most 24.
Result<NoiseDose> noise_dose(std::span<const Exposure> exposures);

/// What is known of noise besides hours: programmes, peaks, other limits. Whole sentences.
struct NoiseNote {
  std::string_view text;
  Source source;
};
std::span<const NoiseNote> noise_notes();

}  // namespace jigtime::handbook
