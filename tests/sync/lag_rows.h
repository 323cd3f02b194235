// Correlations as one window of a pair gives them, with a known peak.
#pragma once

#include <cmath>
#include <random>
#include <vector>

#include "sync/lag_map.h"
#include "sync/line_up.h"

namespace jigtime::test {

class LagRows {
 public:
  static constexpr int half = sync::sample_rate_hz;  // a second to either side

  explicit LagRows(unsigned number) : dice_{number} {}

  /// Noise of spread 1, and a peak of `height` at `lag` seconds from the middle.
  std::vector<float> row(double lag, double height) {
    std::vector<float> values(2 * half + 1);
    for (float& value : values) value = normal_(dice_);
    if (height > 0)
      values[static_cast<std::size_t>(half + std::lround(lag * sync::sample_rate_hz))] += static_cast<float>(height);
    return values;
  }

  double uniform(double low, double high) { return std::uniform_real_distribution<double>{low, high}(dice_); }

 private:
  std::mt19937 dice_;
  std::normal_distribution<float> normal_;
};

}  // namespace jigtime::test
