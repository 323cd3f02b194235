#include "media/libav/picture_maker.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <string>
#include <utility>

extern "C" {
#include <libavutil/pixdesc.h>
}

#include "base/time.h"

namespace jigtime::media {
namespace {

void make_opaque(Picture& picture) {
  for (std::size_t i = 3; i < picture.rgba.size(); i += 4) picture.rgba[i] = 255;
}

Error unknown_form(const AVPixFmtDescriptor* description) {
  return {Code::unsupported, std::string{"Pictures of the form "} +
                                 (description != nullptr ? description->name : "unknown") +
                                 " cannot be shown. Convert the file to H.264 in an MP4 file."};
}

}  // namespace

int matrix_of(const AVFrame& frame) {
  if (frame.colorspace != AVCOL_SPC_UNSPECIFIED && frame.colorspace != AVCOL_SPC_RGB) return frame.colorspace;
  return frame.height >= 720 ? SWS_CS_ITU709 : SWS_CS_ITU601;
}

bool has_full_range(const AVFrame& frame) {
  switch (frame.format) {
    case AV_PIX_FMT_YUVJ420P:
    case AV_PIX_FMT_YUVJ422P:
    case AV_PIX_FMT_YUVJ444P:
    case AV_PIX_FMT_YUVJ440P:
    case AV_PIX_FMT_YUVJ411P: return true;
    default: return frame.color_range == AVCOL_RANGE_JPEG;
  }
}

PictureMaker::PictureMaker(const Shape& shape, int most_width)
    : width_{std::max(shape.width, 1)}, height_{std::max(shape.height, 1)}, rotation_degrees_{shape.rotation_degrees} {
  if (most_width > 0 && width_ > most_width) {
    height_ = std::max(static_cast<int>(scaled(height_, most_width, width_)), 1);
    width_ = most_width;
  }
}

Result<Picture> PictureMaker::make(const AVFrame& frame) {
  const auto format = static_cast<AVPixelFormat>(frame.format);
  const AVPixFmtDescriptor* description = av_pix_fmt_desc_get(format);
  // libswscale ends the program over a format it does not know, so it is not asked.
  if (description == nullptr || sws_isSupportedInput(format) == 0) return unknown_form(description);
  const bool lying = rotation_degrees_ % 180 != 0;
  Picture picture = Picture::blank(lying ? height_ : width_, lying ? width_ : height_);
  scaler_.reset(sws_getCachedContext(scaler_.release(), frame.width, frame.height, format, picture.width,
                                     picture.height, AV_PIX_FMT_RGBA, SWS_BILINEAR, nullptr, nullptr, nullptr));
  if (scaler_ == nullptr) return unknown_form(description);
  constexpr int one = 1 << 16;
  sws_setColorspaceDetails(scaler_.get(), sws_getCoefficients(matrix_of(frame)), has_full_range(frame) ? 1 : 0,
                           sws_getCoefficients(SWS_CS_DEFAULT), 1, 0, one, one);
  const std::array<std::uint8_t*, 4> rows{picture.rgba.data(), nullptr, nullptr, nullptr};
  const std::array<int, 4> strides{picture.width * 4, 0, 0, 0};
  sws_scale(scaler_.get(), frame.data, frame.linesize, 0, frame.height, rows.data(), strides.data());
  if ((description->flags & AV_PIX_FMT_FLAG_ALPHA) != 0) make_opaque(picture);
  return turned(std::move(picture), rotation_degrees_);
}

Picture turned(Picture picture, int degrees) {
  if (degrees != 90 && degrees != 180 && degrees != 270) return picture;
  const bool lying = degrees != 180;
  const int width = lying ? picture.height : picture.width;
  const int height = lying ? picture.width : picture.height;
  Picture upright = Picture::blank(width, height);
  const auto pixel = [](const Picture& of, int x, int y) {
    return (static_cast<std::size_t>(y) * static_cast<std::size_t>(of.width) + static_cast<std::size_t>(x)) * 4;
  };
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const int from_x = degrees == 90 ? y : degrees == 180 ? width - 1 - x : height - 1 - y;
      const int from_y = degrees == 90 ? width - 1 - x : degrees == 180 ? height - 1 - y : x;
      std::memcpy(&upright.rgba[pixel(upright, x, y)], &picture.rgba[pixel(picture, from_x, from_y)], 4);
    }
  }
  return upright;
}

}  // namespace jigtime::media
