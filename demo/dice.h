// Chance that falls the same way on every machine: the standard distributions differ between libraries.
#pragma once

#include <cstdint>

namespace jigtime::demo {

/// The splitmix64 generator (public domain, Vigna 2015; constants from memory). Any seed will do.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_{seed} {}

  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15U;
    std::uint64_t mixed = state_;
    mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9U;
    mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBU;
    return mixed ^ (mixed >> 31);
  }
  /// In [0, 1).
  double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * unit(); }
  /// In [low, high], both included.
  int whole(int low, int high) { return low + static_cast<int>(next() % static_cast<std::uint64_t>(high - low + 1)); }
  /// White noise, evenly spread over -1 to 1.
  float noise() { return static_cast<float>(between(-1, 1)); }

 private:
  std::uint64_t state_;
};

}  // namespace jigtime::demo
