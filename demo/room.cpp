#include "demo/room.h"

#include <cmath>

namespace jigtime::demo {

Room::Room(std::uint64_t place, double sample_rate_hz, double reverberation_s) {
  Dice dice{place};
  double length_s = 0.007;  // the first wall is some two metres away
  for (Line& line : lines_) {
    line.ring.resize(static_cast<std::size_t>(length_s * sample_rate_hz) + 1);
    line.keep = static_cast<float>(std::pow(10.0, -3 * length_s / reverberation_s));
    line.into = dice.unit() < 0.5 ? -0.35F : 0.35F;
    length_s *= dice.between(1.16, 1.32);
  }
}

float Room::echo(float in) {
  constexpr float share = 2.0F / lines;  // Householder reflection: loses nothing between the lines
  std::array<float, lines> heard;
  float sum = 0;
  for (std::size_t i = 0; i < lines; ++i) {
    Line& line = lines_[i];
    line.dull += 0.55F * (line.ring[line.at] - line.dull);
    heard[i] = line.keep * line.dull;
    sum += heard[i];
  }
  float out = 0;
  for (std::size_t i = 0; i < lines; ++i) {
    Line& line = lines_[i];
    out += line.into * heard[i];
    line.ring[line.at] = heard[i] - share * sum + line.into * in;
    if (++line.at == line.ring.size()) line.at = 0;
  }
  return out;
}

}  // namespace jigtime::demo
