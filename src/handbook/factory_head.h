// The manufactured 100 degree flush head, for drawing it. Not for accepting anything.
// Must never know: the reduced heads of NAS1097, of which no sheet was read.
// Begin reading at: find_flush_head.
#pragma once

#include <span>

#include "handbook/source.h"

namespace jigtime::handbook {

/// Thousandths of an inch.
struct FlushHead {
  int diameter_32nds = 0;
  int width_mil = 0;
  int height_mil = 0;
  Source source;
};

/// nullptr for a size that no table at hand has.
const FlushHead* find_flush_head(int diameter_32nds);
std::span<const FlushHead> all_flush_heads();

}  // namespace jigtime::handbook
