#include "media/libav/small_pictures.h"

#include <algorithm>
#include <cstring>
#include <string>
#include <tuple>
#include <utility>

extern "C" {
#include <libavutil/pixdesc.h>
}

#include "media/libav/ends.h"
#include "media/libav/error.h"
#include "media/libav/picture_maker.h"
#include "media/libav/shape.h"

namespace jigtime::media {
namespace {

// Steps of the usual picture rates are whole numbers of it, or nearly.
constexpr int ticks_per_second = 90'000;
// Pictures to look at for a moment: a little coarser than a film to keep.
constexpr const char* quality = "26";

int even(std::int64_t side) { return static_cast<int>(std::max<std::int64_t>(side / 2 * 2, 2)); }

/// As coded: a picture that is turned when shown lies on its side.
std::pair<int, int> size_of(const Source& source, int most_width) {
  const Shape shape = shown_shape(*source.pictures());
  std::int64_t width = std::max(shape.width, 1);
  std::int64_t height = std::max(shape.height, 1);
  if (width > most_width) {
    height = scaled(height, most_width, width);
    width = most_width;
  }
  if (shape.rotation_degrees % 180 != 0) std::swap(width, height);
  return {even(width), even(height)};
}

Done keep_turn(const AVStream& from, AVStream& to) {
  std::size_t size = 0;
  const std::uint8_t* matrix = av_stream_get_side_data(&from, AV_PKT_DATA_DISPLAYMATRIX, &size);
  if (matrix == nullptr) return {};
  std::uint8_t* kept = av_stream_new_side_data(&to, AV_PKT_DATA_DISPLAYMATRIX, size);
  if (kept == nullptr) return Error{Code::internal, "There is not enough memory for a copy."};
  std::memcpy(kept, matrix, size);
  return {};
}

}  // namespace

Result<SmallPictures> SmallPictures::open(AVFormatContext& output, const Source& source, const AVFrame& first,
                                          Length offset, const SmallCopySettings& settings) {
  const bool x264 = avcodec_find_encoder_by_name("libx264") != nullptr;
  Result<Encoder> encoder = Encoder::make(output, x264 ? "libx264" : "mpeg4", AVMEDIA_TYPE_VIDEO);
  if (!encoder) return encoder.error();
  AVCodecContext& codec = encoder->codec();
  std::tie(codec.width, codec.height) = size_of(source, settings.most_width);
  codec.time_base = {1, ticks_per_second};
  codec.framerate = picture_rate(source);
  codec.sample_aspect_ratio = {1, 1};
  codec.gop_size = settings.key_every;
  codec.max_b_frames = 0;
  codec.pix_fmt = AV_PIX_FMT_YUV420P;
  codec.color_range = AVCOL_RANGE_MPEG;
  codec.colorspace = matrix_of(first) == SWS_CS_ITU709 ? AVCOL_SPC_BT709 : AVCOL_SPC_SMPTE170M;
  codec.thread_count = 1;
  Tags options;
  if (x264) {
    options.set("preset", "superfast");
    options.set("tune", "fastdecode");
    options.set("crf", quality);
    options.set("sc_threshold", "0");
  } else {
    codec.flags |= AV_CODEC_FLAG_QSCALE;
    codec.global_quality = 5 * FF_QP2LAMBDA;
    codec.time_base = {1, 60'000};  // MPEG-4 counts in 16 bits
  }
  if (const Done opened = encoder->open(options.address()); !opened) return opened.error();
  // How long the last picture lasts: without it the muxer ends the film where that begins.
  const AVRational usual{30, 1};
  encoder->stream().r_frame_rate = codec.framerate.num > 0 ? codec.framerate : usual;
  encoder->stream().avg_frame_rate = encoder->stream().r_frame_rate;
  if (const Done kept = keep_turn(*source.pictures(), encoder->stream()); !kept) return kept.error();
  FramePtr frame{av_frame_alloc()};
  if (frame == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  frame->format = codec.pix_fmt;
  frame->width = codec.width;
  frame->height = codec.height;
  frame->color_range = codec.color_range;
  frame->colorspace = codec.colorspace;
  if (av_frame_get_buffer(frame.get(), 0) < 0) {
    return Error{Code::internal, "There is not enough memory for a picture."};
  }
  return SmallPictures{std::move(*encoder), std::move(frame), offset};
}

Done SmallPictures::write(const Shown& shown) {
  const AVFrame& from = *shown.frame;
  const auto format = static_cast<AVPixelFormat>(from.format);
  if (sws_isSupportedInput(format) == 0) {
    return Error{Code::unsupported,
                 "Pictures of this form cannot be copied. Convert the file to H.264 in an MP4 file."};
  }
  scaler_.reset(sws_getCachedContext(scaler_.release(), from.width, from.height, format, frame_->width, frame_->height,
                                     AV_PIX_FMT_YUV420P, SWS_BILINEAR, nullptr, nullptr, nullptr));
  if (scaler_ == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  if (const int code = av_frame_make_writable(frame_.get()); code < 0) {
    return from_libav(code, "There is no room for a picture", Deed::writing);
  }
  constexpr int one = 1 << 16;
  const int matrix = frame_->colorspace == AVCOL_SPC_BT709 ? SWS_CS_ITU709 : SWS_CS_ITU601;
  sws_setColorspaceDetails(scaler_.get(), sws_getCoefficients(matrix_of(from)), has_full_range(from) ? 1 : 0,
                           sws_getCoefficients(matrix), 0, 0, one, one);
  sws_scale(scaler_.get(), from.data, from.linesize, 0, from.height, frame_->data, frame_->linesize);
  const AVRational base = encoder_.codec().time_base;
  const Length at = shown.at.time_since_epoch() + offset_;
  last_ = std::max(last_ + 1, scaled(at.count(), base.den, 1'000'000'000));
  frame_->pts = last_;
  return encoder_.send(frame_.get());
}

}  // namespace jigtime::media
