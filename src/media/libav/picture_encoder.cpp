#include "media/libav/picture_encoder.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <string>

#include "media/libav/error.h"

namespace jigtime::media {
namespace {

constexpr int most_side = 16384;

Done check(const WriterSettings::Pictures& settings) {
  const auto even_side = [](int side) { return side > 0 && side <= most_side && side % 2 == 0; };
  if (!even_side(settings.width) || !even_side(settings.height)) {
    return Error{Code::invalid, "A film's width and height must be even, from 2 to " + std::to_string(most_side) + "."};
  }
  if (settings.rate_num <= 0 || settings.rate_den <= 0 || settings.key_every <= 0 || settings.bits_per_second < 0) {
    return Error{Code::invalid, "A film needs a picture rate above zero, and a whole picture now and then."};
  }
  return {};
}

AVPixelFormat format_for(const AVCodec& encoder) {
  if (encoder.pix_fmts == nullptr) return AV_PIX_FMT_YUV420P;
  for (const AVPixelFormat* format = encoder.pix_fmts; *format != AV_PIX_FMT_NONE; ++format) {
    if (*format == AV_PIX_FMT_YUV420P) return *format;
  }
  return encoder.pix_fmts[0];
}

void describe(AVCodecContext& codec, const WriterSettings::Pictures& settings) {
  codec.width = settings.width;
  codec.height = settings.height;
  codec.time_base = {settings.rate_den, settings.rate_num};
  codec.framerate = {settings.rate_num, settings.rate_den};
  codec.sample_aspect_ratio = {1, 1};
  codec.gop_size = settings.key_every;
  codec.pix_fmt = format_for(*codec.codec);
  const bool full_range = codec.codec_id == AV_CODEC_ID_MJPEG;
  codec.color_range = full_range ? AVCOL_RANGE_JPEG : AVCOL_RANGE_MPEG;
  // ITU-R BT.601 for JPEG (JFIF) and small pictures, BT.709 for the rest, as players assume where nothing is said.
  codec.colorspace = full_range || settings.height < 720 ? AVCOL_SPC_SMPTE170M : AVCOL_SPC_BT709;
}

void set_rate(AVCodecContext& codec, int bits_per_second, Tags& options) {
  const bool x26x = codec.codec_id == AV_CODEC_ID_H264 || codec.codec_id == AV_CODEC_ID_HEVC;
  if (x26x) options.set("preset", "veryfast");
  if (bits_per_second > 0) {
    codec.bit_rate = bits_per_second;
    codec.rc_max_rate = bits_per_second * 2LL;
    codec.rc_buffer_size = bits_per_second;
  } else if (x26x) {
    options.set("crf", "23");
  } else {
    codec.flags |= AV_CODEC_FLAG_QSCALE;
    codec.global_quality = 4 * FF_QP2LAMBDA;
  }
}

FramePtr frame_for(const AVCodecContext& codec) {
  FramePtr frame{av_frame_alloc()};
  if (frame == nullptr) return frame;
  frame->format = codec.pix_fmt;
  frame->width = codec.width;
  frame->height = codec.height;
  frame->color_range = codec.color_range;
  frame->colorspace = codec.colorspace;
  if (av_frame_get_buffer(frame.get(), 0) < 0) frame.reset();
  return frame;
}

}  // namespace

ScalerPtr scaler_from_rgba(int width, int height, AVPixelFormat format, AVColorSpace space, AVColorRange range) {
  ScalerPtr scaler{
      sws_getContext(width, height, AV_PIX_FMT_RGBA, width, height, format, SWS_BILINEAR, nullptr, nullptr, nullptr)};
  if (scaler == nullptr) return scaler;
  constexpr int one = 1 << 16;
  sws_setColorspaceDetails(scaler.get(), sws_getCoefficients(SWS_CS_DEFAULT), 1, sws_getCoefficients(space),
                           range == AVCOL_RANGE_JPEG ? 1 : 0, 0, one, one);
  return scaler;
}

Result<PictureEncoder> PictureEncoder::open(AVFormatContext& output, const WriterSettings::Pictures& settings,
                                            int threads) {
  if (const Done sound = check(settings); !sound) return sound.error();
  Result<Encoder> encoder = Encoder::make(output, settings.codec.c_str(), AVMEDIA_TYPE_VIDEO);
  if (!encoder) return encoder.error();
  AVCodecContext& codec = encoder->codec();
  describe(codec, settings);
  codec.thread_count = std::clamp(threads, 1, 16);
  Tags options;
  set_rate(codec, settings.bits_per_second, options);
  // AVI has no place for the time a picture is shown, only an order.
  if (std::strcmp(output.oformat->name, "avi") == 0) codec.max_b_frames = 0;
  if (const Done opened = encoder->open(options.address()); !opened) return opened.error();
  encoder->stream().avg_frame_rate = codec.framerate;
  encoder->stream().r_frame_rate = codec.framerate;
  if (!settings.timecode.empty()) {
    av_dict_set(&encoder->stream().metadata, "timecode", settings.timecode.c_str(), 0);
  }
  ScalerPtr scaler = scaler_from_rgba(codec.width, codec.height, codec.pix_fmt, codec.colorspace, codec.color_range);
  FramePtr frame = frame_for(codec);
  if (scaler == nullptr || frame == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  return PictureEncoder{std::move(*encoder), std::move(scaler), std::move(frame)};
}

Done PictureEncoder::write(const Picture& picture) {
  const std::size_t bytes = static_cast<std::size_t>(frame_->width) * static_cast<std::size_t>(frame_->height) * 4;
  if (picture.width != frame_->width || picture.height != frame_->height || picture.rgba.size() != bytes) {
    return Error{Code::invalid, "A picture is of another size than the film."};
  }
  if (const int code = av_frame_make_writable(frame_.get()); code < 0) {
    return from_libav(code, "There is no room for a picture", Deed::writing);
  }
  const std::array<const std::uint8_t*, 4> rows{picture.rgba.data(), nullptr, nullptr, nullptr};
  const std::array<int, 4> strides{picture.width * 4, 0, 0, 0};
  sws_scale(scaler_.get(), rows.data(), strides.data(), 0, picture.height, frame_->data, frame_->linesize);
  frame_->pts = count_++;
  return encoder_.send(frame_.get());
}

}  // namespace jigtime::media
