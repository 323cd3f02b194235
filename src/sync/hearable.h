// A clip as the steps for one pair see it.
// Must never know: another clip.
#pragma once

#include <vector>

#include "sync/features.h"
#include "sync/fine.h"

namespace jigtime::sync {

struct Hearable {
  const Frames* frames = nullptr;
  const Hearing* hearing = nullptr;
  double from = 0;  ///< clip seconds where its sound begins and ends
  double to = 0;
  std::vector<double> joins{};  ///< clip seconds at which a jump is more likely
};

/// Seconds of a clip.
struct Extent {
  double from = 0;
  double to = 0;
  double length() const { return to - from; }
};

}  // namespace jigtime::sync
