// Takes a microphone's sound on the true clock and samples it by a camera's own clock.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace jigtime::bench {

class SimulatedClip;

/// A windowed sinc of 32 taps that passes up to 7.2 kHz, error below -80 dB there.
class ClipSampler {
 public:
  /// `clip` is laid out already and outlives this.
  explicit ClipSampler(const SimulatedClip& clip);
  /// Consecutive blocks; `first` is the true sample number of sound[0].
  void hear(std::int64_t first, std::span<const float> sound);
  /// The clip's samples; what was never heard is zero.
  std::vector<float> take();
  /// Zeros the samples that stand in for stamped dropouts.
  void silence_gaps(std::vector<float>& samples) const;

 private:
  struct Run {
    std::int64_t first = 0;  ///< sample of the clip
    std::int64_t end = 0;
    double reading_s = 0;  ///< camera clock at `first`
  };
  double true_sample(const Run& run, std::int64_t n) const;
  float interpolate(double at) const;

  const SimulatedClip* clip_;
  std::vector<Run> runs_;
  std::size_t run_ = 0;
  std::int64_t next_ = 0;
  std::vector<float> out_;
  std::vector<float> recent_;
  std::int64_t recent_first_ = 0;
};

}  // namespace jigtime::bench
