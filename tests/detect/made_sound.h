// Sounds for the detector's tests, made on the spot: blows, knocks, hum, noise.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <span>
#include <vector>

#include "detect/detect.h"

namespace jigtime::test {

/// A stretch of sound that grows as things are put into it.
class MadeSound {
 public:
  explicit MadeSound(double seconds) : samples_(static_cast<std::size_t>(seconds * detect::sample_rate_hz), 0.0F) {}

  const std::vector<float>& samples() const { return samples_; }
  std::vector<float>& samples() { return samples_; }

  MadeSound& noise(double level) {
    for (float& x : samples_) x += static_cast<float>(level * random());
    return *this;
  }
  MadeSound& hum(double level, double hz) {
    for (std::size_t n = 0; n < samples_.size(); ++n) {
      samples_[n] += static_cast<float>(level * std::sin(turn(hz) * static_cast<double>(n)));
    }
    return *this;
  }
  /// A struck sheet: three tones that die within a few milliseconds, under a click.
  MadeSound& knock(double at_s, double level, double decay_s = 0.006) {
    const auto first = static_cast<std::size_t>(at_s * detect::sample_rate_hz);
    for (std::size_t n = 0; n < 2000 && first + n < samples_.size(); ++n) {
      const double t = static_cast<double>(n) / detect::sample_rate_hz;
      const double ring = std::sin(turn(1300) * static_cast<double>(n)) +
                          std::sin(turn(2900) * static_cast<double>(n)) + std::sin(turn(4700) * static_cast<double>(n));
      const double click = n < 24 ? 2 * random() : 0;
      samples_[first + n] += static_cast<float>(level * (ring * std::exp(-t / decay_s) + click));
    }
    return *this;
  }
  /// Even blows with a jitter of `uneven` of their distance.
  MadeSound& blows(double from_s, double to_s, double rate_hz, double level, double uneven = 0.03) {
    for (double t = from_s; t < to_s; t += (1 + uneven * random()) / rate_hz) knock(t, level * (1 + 0.2 * random()));
    return *this;
  }
  /// Half of the syllables of a voice whose pulses come at `pitch_hz`: pulses through one resonance at 1.1 kHz.
  MadeSound& voice(double from_s, double to_s, double pitch_hz, double level) {
    double next = from_s;
    double glide = 0;
    while (next < to_s) {
      const double in_syllable = std::fmod(next - from_s, 0.25);
      if (in_syllable < 0.17) ring(next, level * std::sin(std::numbers::pi * in_syllable / 0.17));
      glide = 0.95 * glide + 0.02 * random();
      next += (1 + glide) / pitch_hz;
    }
    return *this;
  }

 private:
  static double turn(double hz) { return 2 * std::numbers::pi * hz / detect::sample_rate_hz; }
  void ring(double at_s, double level) {
    const auto first = static_cast<std::size_t>(at_s * detect::sample_rate_hz);
    for (std::size_t n = 0; n < 160 && first + n < samples_.size(); ++n) {
      const double t = static_cast<double>(n) / detect::sample_rate_hz;
      samples_[first + n] +=
          static_cast<float>(level * std::sin(turn(1100) * static_cast<double>(n)) * std::exp(-t / 0.004));
    }
  }
  /// -1 to 1, the same on every machine (the multiplier of Knuth's MMIX generator).
  double random() {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(static_cast<std::int64_t>(state_)) * 0x1p-63;
  }

  std::vector<float> samples_;
  std::uint64_t state_ = 42;
};

inline std::vector<detect::Finding> found_in(const MadeSound& sound, std::size_t block = 4096) {
  detect::Detector detector{ClipTime{}};
  const std::span<const float> all{sound.samples()};
  for (std::size_t n = 0; n < all.size(); n += block) detector.add(all.subspan(n, std::min(block, all.size() - n)));
  return detector.finish();
}

inline std::vector<detect::Finding> only(detect::Kind kind, std::vector<detect::Finding> findings) {
  std::erase_if(findings, [kind](const detect::Finding& one) { return one.kind != kind; });
  return findings;
}

}  // namespace jigtime::test
