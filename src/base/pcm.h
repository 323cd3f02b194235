// Sound in memory: one channel, floating point, full scale is 1.
#pragma once

#include <span>
#include <vector>

#include "base/time.h"

namespace jigtime {

struct Pcm {
  int sample_rate_hz = 0;
  std::vector<float> samples;
};

/// Samples on loan from their maker, valid until it is asked for the next block.
/// `start` is the clip time of the first sample. A block need not begin where the one before it ended: the file
/// then has a gap (or steps back) in its own time stamps.
struct SoundBlock {
  ClipTime start;
  std::span<const float> samples;
};

}  // namespace jigtime
