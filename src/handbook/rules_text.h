// Everything the handbook has on one rivet, told in sentences with their sources.
// Must never know: what was built; it compares nothing and approves nothing.
// Begin reading at: rules_for.
#pragma once

#include <string>
#include <vector>

#include "handbook/callout.h"

namespace jigtime::handbook {

/// Holes, heads, edge distance, pitch and rows, replacing, shear of one rivet; of blind rivets holes and how they are
/// looked at. One sentence a published rule, also where they differ; the caution last.
std::vector<std::string> rules_for(const Callout& callout);

}  // namespace jigtime::handbook
