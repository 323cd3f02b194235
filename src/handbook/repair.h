// Replacing rivets: how many may go oversize, and which may stand in for which.
// Must never know: the parts at hand; edge distance and spacing must still hold, and the plans decide.
// Begin reading at: oversize_limit, then replacement_for.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

/// Oversize holes and countersinks together: 20 % of the rivets or 10 in one pattern, the smaller, rounded down.
/// 0 for fewer than five rivets. Precondition: rivets >= 0.
int oversize_limit(int rivets);
extern const Source oversize_source;

/// The next larger diameter: 1/32 in more up to 1/4 in, 1/16 in more above. Precondition: diameter > 0.
int next_larger_32nds(int diameter_32nds);
extern const Source next_larger_source;

struct Replacement {
  std::string letters;  ///< "AD"
  int diameter_32nds = 0;
  std::string note;  ///< a whole sentence, or empty
  Source source;
};

/// The 2117 (AD) rivet that may replace a 2017 (D) or 2024 (DD) one; nothing where the rule does not reach.
/// Error invalid for letters the rule says nothing about.
Result<std::optional<Replacement>> replacement_for(std::string_view letters, int diameter_32nds);

}  // namespace jigtime::handbook
