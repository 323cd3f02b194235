#include <array>
#include <cmath>

#include "media/libav/error.h"
#include "media/libav/picture_encoder.h"
#include "media/picture_reader.h"

namespace jigtime::media {
namespace {

/// Quality 100 to 1 as libav's quantiser scale 1 to 31; the curve keeps the usual range (70 to 95) at 2 to 6.
int quantiser(int quality) {
  const double loss = (100 - quality) / 99.0;
  return static_cast<int>(std::lround(FF_QP2LAMBDA * (1.0 + 30.0 * std::pow(loss, 1.5))));
}

Result<CodecPtr> open_encoder(const Picture& picture) {
  const AVCodec* encoder = avcodec_find_encoder(AV_CODEC_ID_MJPEG);
  if (encoder == nullptr) return Error{Code::unsupported, "This machine's libav cannot write JPEG pictures."};
  CodecPtr codec{avcodec_alloc_context3(encoder)};
  if (codec == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  codec->width = picture.width;
  codec->height = picture.height;
  codec->time_base = {1, 25};
  codec->pix_fmt = AV_PIX_FMT_YUVJ420P;
  codec->color_range = AVCOL_RANGE_JPEG;
  codec->flags |= AV_CODEC_FLAG_QSCALE;
  codec->qmin = 1;
  codec->thread_count = 1;
  if (const int code = avcodec_open2(codec.get(), encoder, nullptr); code < 0) {
    return from_libav(code, "A picture of this size cannot be kept as JPEG", Deed::writing);
  }
  return codec;
}

Result<FramePtr> to_frame(const Picture& picture) {
  FramePtr frame{av_frame_alloc()};
  if (frame == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  frame->format = AV_PIX_FMT_YUVJ420P;
  frame->width = picture.width;
  frame->height = picture.height;
  frame->color_range = AVCOL_RANGE_JPEG;
  const ScalerPtr scaler =
      scaler_from_rgba(picture.width, picture.height, AV_PIX_FMT_YUVJ420P, AVCOL_SPC_SMPTE170M, AVCOL_RANGE_JPEG);
  if (scaler == nullptr || av_frame_get_buffer(frame.get(), 0) < 0) {
    return Error{Code::internal, "There is not enough memory for a picture."};
  }
  const std::array<const std::uint8_t*, 4> rows{picture.rgba.data(), nullptr, nullptr, nullptr};
  const std::array<int, 4> strides{picture.width * 4, 0, 0, 0};
  sws_scale(scaler.get(), rows.data(), strides.data(), 0, picture.height, frame->data, frame->linesize);
  return frame;
}

}  // namespace

Result<std::vector<std::uint8_t>> to_jpeg(const Picture& picture, int quality) {
  quieten_libav();
  forget_complaint();
  const auto side_fits = [](int side) { return side > 0 && side <= 65500; };
  if (quality < 1 || quality > 100) return Error{Code::invalid, "The quality of a JPEG picture is 1 to 100."};
  if (!side_fits(picture.width) || !side_fits(picture.height) ||
      picture.rgba.size() != static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height) * 4) {
    return Error{Code::invalid, "The picture is empty, too large or not as large as it says."};
  }
  Result<CodecPtr> codec = open_encoder(picture);
  if (!codec) return codec.error();
  Result<FramePtr> frame = to_frame(picture);
  if (!frame) return frame.error();
  (*frame)->quality = quantiser(quality);
  (*frame)->pts = 0;
  const PacketPtr packet{av_packet_alloc()};
  if (packet == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  int code = avcodec_send_frame(codec->get(), frame->get());
  if (code >= 0) code = avcodec_send_frame(codec->get(), nullptr);
  if (code >= 0) code = avcodec_receive_packet(codec->get(), packet.get());
  if (code < 0) return from_libav(code, "A picture cannot be kept as JPEG", Deed::writing);
  return std::vector<std::uint8_t>(packet->data, packet->data + packet->size);
}

}  // namespace jigtime::media
