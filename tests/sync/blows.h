// Blows over noise, for tests of what is loud.
#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "shop.h"

namespace jigtime::test {

inline std::vector<float> noise(double seconds, std::uint64_t number, double level) {
  Dice dice{number};
  std::vector<float> sound(static_cast<std::size_t>(seconds * sync::sample_rate_hz));
  for (float& sample : sound) sample = static_cast<float>(level * dice.normal());
  return sound;
}

/// At `at` seconds, as far as it lies in the sound. The same number sounds the same.
inline void add_blow(std::vector<float>& sound, double at, double level, std::uint64_t number) {
  Dice dice{number};
  const auto first = static_cast<std::ptrdiff_t>(at * sync::sample_rate_hz);
  const double bright = dice.uniform(0.2, 0.9);
  double low = 0;
  for (std::ptrdiff_t i = 0; i < sync::sample_rate_hz / 5; ++i) {
    low += bright * (dice.normal() - low);
    if (first + i < 0 || first + i >= std::ssize(sound)) continue;
    sound[static_cast<std::size_t>(first + i)] +=
        static_cast<float>(level * low * std::exp(-static_cast<double>(i) / (0.03 * sync::sample_rate_hz)));
  }
}

}  // namespace jigtime::test
