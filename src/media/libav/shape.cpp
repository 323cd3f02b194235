#include "media/libav/shape.h"

#include <cmath>
#include <utility>

extern "C" {
#include <libavutil/display.h>
}

#include "base/time.h"

namespace jigtime::media {
namespace {

int rotation_of(const AVStream& stream) {
  std::size_t size = 0;
  const std::uint8_t* data = av_stream_get_side_data(&stream, AV_PKT_DATA_DISPLAYMATRIX, &size);
  if (data == nullptr || size < 9 * sizeof(std::int32_t)) return 0;
  // libav counts anticlockwise, and says NaN for a matrix that is none.
  const double turn = -av_display_rotation_get(reinterpret_cast<const std::int32_t*>(data));
  if (!std::isfinite(turn)) return 0;
  const auto quarters = static_cast<int>(std::lround(turn / 90.0));
  return ((quarters % 4 + 4) % 4) * 90;
}

}  // namespace

Shape shown_shape(const AVStream& stream) {
  Shape shape{stream.codecpar->width, stream.codecpar->height, rotation_of(stream)};
  AVRational pixel = stream.sample_aspect_ratio;
  if (pixel.num <= 0 || pixel.den <= 0) pixel = stream.codecpar->sample_aspect_ratio;
  // Beyond 4 : 1 the ratio is a fault of the file.
  if (pixel.num > 0 && pixel.den > 0 && pixel.num / 4 <= pixel.den && pixel.den / 4 <= pixel.num) {
    shape.width = static_cast<int>(scaled(shape.width, pixel.num, pixel.den));
  }
  if (shape.rotation_degrees % 180 != 0) std::swap(shape.width, shape.height);
  return shape;
}

}  // namespace jigtime::media
