// Decoded sound of any kind as one channel of floats.
#pragma once

#include <vector>

#include "base/result.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// Appends the average of all channels of `frame`; full scale is 1. Every sample appended is finite: what is no number,
/// or beyond any sane level, becomes 0. Errors: unsupported (a sample format libav did not have when this was written).
Done append_mono(const AVFrame& frame, std::vector<float>& to);

}  // namespace jigtime::media
