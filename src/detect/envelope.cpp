#include "detect/envelope.h"

#include <algorithm>
#include <cmath>

#include "detect/detect.h"

namespace jigtime::detect {
namespace {

constexpr float loudest = 16;

float usable(float sample) { return std::isfinite(sample) ? std::clamp(sample, -loudest, loudest) : 0.0F; }

/// Halves `count` values into sums and returns the power of the differences, scaled to that of the values.
float split(std::span<float> values, std::size_t count) {
  float power = 0;
  for (std::size_t i = 0; i < count / 2; ++i) {
    const float difference = values[2 * i] - values[2 * i + 1];
    values[i] = values[2 * i] + values[2 * i + 1];
    power += difference * difference;
  }
  return power;
}

}  // namespace

static_assert(sample_rate_hz / frames_per_second == 16, "a frame is one block of samples");

Frame Envelope::take() {
  Frame frame;
  filled_ = 0;
  for (float& sample : block_) {
    const float now = usable(sample);
    frame.heard = frame.heard || now != 0;
    sample = now - last_;
    last_ = now;
  }
  // Each split doubles the power of what it leaves, so the later ones weigh less: half, a quarter, an eighth.
  const float top = split(block_, 16) / 2;
  const float upper = split(block_, 8) / 4;
  frame.middle = split(block_, 4) / 8 / 16;
  frame.high = (top + upper) / 16;
  return frame;
}

}  // namespace jigtime::detect
