// How long a solid rivet a stack of sheets asks for: every published way of rounding, none of them chosen.
// Must never know: call-outs, journals.
// Begin reading at: lengths_for_grip.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct LengthCandidate {
  std::string_view rule;  ///< "nearest whole sixteenth" ...
  int length_32nds = 0;
  Source source;
};

struct LengthsForGrip {
  double wanted_in = 0;                     ///< grip + 1.5 D
  double wanted_16ths = 0;                  ///< the same in dash numbers
  std::vector<LengthCandidate> candidates;  ///< three; they may agree
  std::vector<std::string> notes;           ///< whole sentences
  Source source;                            ///< of L = grip + 1.5 D
};

/// `grip_in` is the whole stack in inches, read to the millionth; for flush heads too, with the length then over all.
/// Error invalid for a grip that is not above 0 and at most 4 in, or a diameter that is no rivet's.
Result<LengthsForGrip> lengths_for_grip(double grip_in, int diameter_32nds);

/// Plain sentences with every candidate and its source; the caution last.
std::vector<std::string> explain(const LengthsForGrip& lengths);

}  // namespace jigtime::handbook
