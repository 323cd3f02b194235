#include "base/time.h"

#include <cmath>
#include <limits>

namespace jigtime {

Length from_seconds(double seconds) {
  const double limit = to_seconds(farthest);
  if (std::isnan(seconds)) return Length{0};
  if (seconds >= limit) return farthest;
  if (seconds <= -limit) return -farthest;
  // Whole seconds apart from the fraction, so that the product keeps nanoseconds at the far end too.
  const double whole = std::trunc(seconds);
  return std::chrono::seconds{static_cast<std::int64_t>(whole)} + Length{std::llround((seconds - whole) * 1e9)};
}

std::int64_t scaled(std::int64_t value, std::int64_t numerator, std::int64_t denominator) {
  __extension__ using Wide = __int128;
  const Wide product = static_cast<Wide>(value) * numerator;
  const Wide half = denominator / 2;
  const Wide rounded = (product >= 0 ? product + half : product - half) / denominator;
  constexpr Wide most = std::numeric_limits<std::int64_t>::max();
  constexpr Wide least = std::numeric_limits<std::int64_t>::min();
  if (rounded > most) return std::numeric_limits<std::int64_t>::max();
  if (rounded < least) return std::numeric_limits<std::int64_t>::min();
  return static_cast<std::int64_t>(rounded);
}

}  // namespace jigtime
