// The workshop's echo: eight delay lines that feed each other (a feedback delay network).
#pragma once

#include <array>
#include <vector>

#include "demo/dice.h"

namespace jigtime::demo {

class Room {
 public:
  /// `place` makes the echoes of one microphone's corner unlike another's; `reverberation_s` is the time to fall by 60
  /// dB.
  Room(std::uint64_t place, double sample_rate_hz, double reverberation_s);
  /// The echo only, without the direct sound.
  float echo(float in);

 private:
  static constexpr std::size_t lines = 8;
  struct Line {
    std::vector<float> ring;
    std::size_t at = 0;
    float keep = 0;  ///< what a round leaves
    float dull = 0;  ///< walls swallow high tones first
    float into = 0;  ///< sign of the input
  };
  std::array<Line, lines> lines_;
};

}  // namespace jigtime::demo
