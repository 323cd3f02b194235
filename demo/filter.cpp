#include "demo/filter.h"

#include <cmath>
#include <numbers>

namespace jigtime::demo {
namespace {

struct Corner {
  double cosine;
  double alpha;
};

Corner corner(double hz, double rate_hz, double q) {
  const double omega = 2 * std::numbers::pi * hz / rate_hz;
  return {std::cos(omega), std::sin(omega) / (2 * q)};
}

}  // namespace

Filter::Filter(double b0, double b1, double b2, double a0, double a1, double a2)
    : b0_{static_cast<float>(b0 / a0)},
      b1_{static_cast<float>(b1 / a0)},
      b2_{static_cast<float>(b2 / a0)},
      a1_{static_cast<float>(a1 / a0)},
      a2_{static_cast<float>(a2 / a0)} {}

Filter Filter::low_pass(double hz, double rate_hz, double q) {
  const auto [c, alpha] = corner(hz, rate_hz, q);
  return {(1 - c) / 2, 1 - c, (1 - c) / 2, 1 + alpha, -2 * c, 1 - alpha};
}

Filter Filter::high_pass(double hz, double rate_hz, double q) {
  const auto [c, alpha] = corner(hz, rate_hz, q);
  return {(1 + c) / 2, -(1 + c), (1 + c) / 2, 1 + alpha, -2 * c, 1 - alpha};
}

Filter Filter::band_pass(double hz, double rate_hz, double q) {
  const auto [c, alpha] = corner(hz, rate_hz, q);
  return {alpha, 0, -alpha, 1 + alpha, -2 * c, 1 - alpha};
}

}  // namespace jigtime::demo
