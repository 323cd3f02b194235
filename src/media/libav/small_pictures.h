// The pictures of a small copy being written.
#pragma once

#include "base/time.h"
#include "media/libav/encoder.h"
#include "media/libav/frame_reader.h"
#include "media/small_copy.h"

namespace jigtime::media {

class SmallPictures {
 public:
  /// Adds a stream to `output`. `first` is the source's first picture; `offset` is added to all clip times.
  static Result<SmallPictures> open(AVFormatContext& output, const Source& source, const AVFrame& first, Length offset,
                                    const SmallCopySettings& settings);

  Done write(const Shown& shown);
  Done finish() { return encoder_.send(nullptr); }

 private:
  SmallPictures(Encoder encoder, FramePtr frame, Length offset)
      : encoder_{std::move(encoder)}, frame_{std::move(frame)}, offset_{offset} {}

  Encoder encoder_;
  ScalerPtr scaler_;
  FramePtr frame_;
  Length offset_;
  std::int64_t last_ = -1;  ///< ticks
};

}  // namespace jigtime::media
