// Random numbers that are the same on every machine for the same start: the standard's distributions are not.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

namespace jigtime::bench {

/// The finaliser of SplitMix64 (Steele, Lea and Flood 2014): spreads a counter over all 64 bits.
constexpr std::uint64_t mix(std::uint64_t x) {
  x += 0x9E3779B97F4A7C15ULL;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
  return x ^ (x >> 31);
}

/// White noise of unit power that can be asked for at any place: four 16-bit uniforms added, nearly Gaussian.
inline float noise_at(std::uint64_t start, std::int64_t n) {
  const std::uint64_t bits = mix(start ^ (static_cast<std::uint64_t>(n) * 0xD1342543DE82EF95ULL));
  const auto sum =
      static_cast<float>((bits & 0xFFFF) + ((bits >> 16) & 0xFFFF) + ((bits >> 32) & 0xFFFF) + (bits >> 48));
  constexpr float middle = 2.0F * 65535.0F;
  constexpr float deviation = 65536.0F * 0.57735027F;  // of four uniforms: sqrt(4 / 12)
  return (sum - middle) / deviation;
}

class Random {
 public:
  explicit Random(std::uint64_t start) : state_{mix(start)} {}

  std::uint64_t bits() { return mix(state_ += 0x9E3779B97F4A7C15ULL); }
  double uniform() { return static_cast<double>(bits() >> 11) * 0x1p-53; }
  double uniform(double low, double high) { return low + (high - low) * uniform(); }
  /// 0 to count - 1. Precondition: count > 0.
  int below(int count) { return static_cast<int>(uniform() * count); }
  bool chance(double probability) { return uniform() < probability; }
  double normal() {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
    return radius * std::cos(2.0 * std::numbers::pi * uniform());
  }
  /// Evenly spread on a logarithmic scale. Precondition: 0 < low < high.
  double log_uniform(double low, double high) { return low * std::pow(high / low, uniform()); }

 private:
  std::uint64_t state_;
};

}  // namespace jigtime::bench
