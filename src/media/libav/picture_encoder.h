// The pictures of a file being written.
#pragma once

#include "base/picture.h"
#include "media/libav/encoder.h"
#include "media/writer.h"

namespace jigtime::media {

class PictureEncoder {
 public:
  /// Adds a stream to `output`. Errors: invalid (settings out of bounds, no such encoder).
  static Result<PictureEncoder> open(AVFormatContext& output, const WriterSettings::Pictures& settings, int threads);

  /// Picture n is shown at n * rate_den / rate_num. Errors: invalid (another size than the stream's).
  Done write(const Picture& picture);
  Done finish() { return encoder_.send(nullptr); }

 private:
  PictureEncoder(Encoder encoder, ScalerPtr scaler, FramePtr frame)
      : encoder_{std::move(encoder)}, scaler_{std::move(scaler)}, frame_{std::move(frame)} {}

  Encoder encoder_;
  ScalerPtr scaler_;
  FramePtr frame_;
  std::int64_t count_ = 0;
};

/// RGBA of this size into `format`; matrix and range as given. Null when libswscale cannot do it.
ScalerPtr scaler_from_rgba(int width, int height, AVPixelFormat format, AVColorSpace space, AVColorRange range);

}  // namespace jigtime::media
