// What coarse matching sees of a clip: how much louder than a moment ago each of sixteen bands became, fifty times a
// second. Must never know: other clips. Begin reading at: Frames.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "sync/line_up.h"

namespace jigtime::sync {

inline constexpr int feature_bands = 16;
inline constexpr int feature_rate_hz = 50;
inline constexpr int samples_per_frame = sample_rate_hz / feature_rate_hz;
/// One step of a feature byte is this part of a factor e in power.
inline constexpr float feature_steps_per_nat = 32;

/// One step of a ready value is this part of its band's usual spread.
inline constexpr float value_steps = 512;

/// Features made ready for correlation: local mean and variance taken out band by band, clipped.
class Frames {
 public:
  Frames() = default;
  explicit Frames(const Features& features);

  int count() const { return count_; }
  /// Clip seconds of the centre of frame 0.
  double origin() const { return origin_; }
  double time_of(double frame) const { return origin_ + frame / feature_rate_hz; }
  double frame_at(double seconds) const { return (seconds - origin_) * feature_rate_hz; }
  /// In steps of 1 / value_steps: half the memory of a float, and far finer than what noise does.
  std::span<const std::int16_t> band(int index) const {
    return {values_.data() + static_cast<std::size_t>(index) * static_cast<std::size_t>(count_),
            static_cast<std::size_t>(count_)};
  }
  /// Sum of the squares over the bands: how much happens in each frame.
  std::span<const float> energy() const { return energy_; }
  /// How much happens in a stretch of clip seconds: events count by how much louder they are than a moment ago, noise
  /// for next to nothing.
  double activity(double from, double to) const;

 private:
  int count_ = 0;
  double origin_ = 0;
  std::vector<std::int16_t> values_;  // band after band
  std::vector<float> energy_;
  std::vector<double> activity_;  // sum of all frames before each
};

}  // namespace jigtime::sync
