// Loudness of two upper bands, a thousand times a second: where blows, knocks and tools stand out.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace jigtime::detect {

inline constexpr int frames_per_second = 1000;

/// One millisecond. A blow fills both bands at once; the beats of a chord or the hum of a motor seldom do.
struct Frame {
  float middle = 0;    ///< power of about 1 to 2 kHz
  float high = 0;      ///< power of about 2 to 8 kHz
  bool heard = false;  ///< false for digital silence
  float power() const { return middle + high; }
};

/// Differences of neighbours (6 dB an octave against rumble, hum and wind), split by Haar's pairs of sums and
/// differences (Haar 1910): coarse bands for two operations a sample. Samples that are not finite count as zero;
/// beyond 16 times full scale they are cut.
class Envelope {
 public:
  /// Calls `frame` for every millisecond that is complete.
  template <class Take>
  void add(std::span<const float> samples, Take&& frame) {
    for (const float sample : samples) {
      block_[filled_++] = sample;
      if (filled_ == block_.size()) frame(take());
    }
  }

 private:
  Frame take();

  std::array<float, 16> block_{};  ///< one millisecond at 16 kHz
  std::size_t filled_ = 0;
  float last_ = 0;
};

}  // namespace jigtime::detect
