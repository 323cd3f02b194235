// A decoded picture as we keep it: upright, square pixels, red-green-blue.
#pragma once

#include "base/picture.h"
#include "base/result.h"
#include "media/libav/handles.h"
#include "media/libav/shape.h"

namespace jigtime::media {

class PictureMaker {
 public:
  /// Pictures of `shape`, scaled down (never up) to at most `most_width`; 0 keeps the size.
  PictureMaker(const Shape& shape, int most_width);

  /// Errors: unsupported (a pixel format libswscale does not know).
  Result<Picture> make(const AVFrame& frame);

 private:
  int width_;  ///< as shown
  int height_;
  int rotation_degrees_;
  ScalerPtr scaler_;
};

/// The matrix the camera says (SWS_CS_*), or what players assume: ITU-R BT.709 from 720 lines on, BT.601 below.
int matrix_of(const AVFrame& frame);
bool has_full_range(const AVFrame& frame);

/// Turned clockwise by 90, 180 or 270 degrees; anything else leaves it as it is.
Picture turned(Picture picture, int degrees);

}  // namespace jigtime::media
