// The sound of a file being written.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "media/libav/encoder.h"
#include "media/writer.h"

namespace jigtime::media {

class SoundEncoder {
 public:
  /// Adds a stream to `output`. Errors: invalid (settings out of bounds, no such encoder, a rate it cannot do).
  static Result<SoundEncoder> open(AVFormatContext& output, const WriterSettings::Sound& settings);

  /// Sample n is heard at n / rate, whatever the encoder's delay.
  Done write(std::span<const float> samples);
  Done finish();

 private:
  SoundEncoder(Encoder encoder, ResamplerPtr spread) : encoder_{std::move(encoder)}, spread_{std::move(spread)} {}
  /// Encodes `count` samples from the front of the buffer.
  Done encode(std::size_t from, std::size_t count);

  Encoder encoder_;
  ResamplerPtr spread_;  ///< one channel into the encoder's channels and sample format
  std::vector<float> waiting_;
  std::size_t frame_samples_ = 1024;
  std::size_t to_drop_ = 0;  ///< where a container cannot tell of the encoder's delay
  std::int64_t position_ = 0;
};

}  // namespace jigtime::media
