#include "detect/background.h"

#include <algorithm>

namespace jigtime::detect {

void Background::add(float level_db) {
  levels_[next_] = level_db;
  next_ = (next_ + 1) % reach_;
  count_ = std::min(count_ + 1, reach_);
  std::array<float, most> sorted = levels_;
  const std::size_t rank = count_ / 5;
  std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(rank),
                   sorted.begin() + static_cast<std::ptrdiff_t>(count_));
  level_db_ = sorted[rank];
}

}  // namespace jigtime::detect
