// The size and turn of pictures as they are to be shown.
#pragma once

#include "media/libav/handles.h"

namespace jigtime::media {

struct Shape {
  int width = 0;  ///< square pixels, rotation applied
  int height = 0;
  int rotation_degrees = 0;  ///< clockwise turn that sets the coded picture upright: 0, 90, 180, 270
};

Shape shown_shape(const AVStream& stream);

}  // namespace jigtime::media
