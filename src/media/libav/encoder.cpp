#include "media/libav/encoder.h"

#include <string>

#include "media/libav/error.h"

namespace jigtime::media {

Result<Encoder> Encoder::make(AVFormatContext& output, const char* codec_name, AVMediaType kind) {
  const AVCodec* encoder = avcodec_find_encoder_by_name(codec_name);
  if (encoder == nullptr || encoder->type != kind) {
    return Error{Code::invalid, "There is no encoder called \"" + std::string{codec_name} + "\" for this."};
  }
  if (avformat_query_codec(output.oformat, encoder->id, FF_COMPLIANCE_EXPERIMENTAL) == 0) {
    return Error{Code::invalid,
                 std::string{codec_name} + " does not go into a file of the kind " + output.oformat->name + "."};
  }
  AVStream* stream = avformat_new_stream(&output, nullptr);
  CodecPtr codec{avcodec_alloc_context3(encoder)};
  PacketPtr packet{av_packet_alloc()};
  if (stream == nullptr || codec == nullptr || packet == nullptr) {
    return Error{Code::internal, "There is not enough memory for an encoder."};
  }
  if ((output.oformat->flags & AVFMT_GLOBALHEADER) != 0) codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
  codec->strict_std_compliance = FF_COMPLIANCE_EXPERIMENTAL;
  return Encoder{output, *stream, std::move(codec), std::move(packet)};
}

Done Encoder::open(AVDictionary** options) {
  const std::string name = codec_->codec->name;
  if (const int code = avcodec_open2(codec_.get(), nullptr, options); code < 0) {
    return from_libav(code, "The encoder " + name + " does not accept these settings", Deed::writing);
  }
  if (const int code = avcodec_parameters_from_context(stream_->codecpar, codec_.get()); code < 0) {
    return from_libav(code, "The encoder " + name + " cannot be used", Deed::writing);
  }
  stream_->time_base = codec_->time_base;
  return {};
}

Done Encoder::send(const AVFrame* frame) {
  int code = avcodec_send_frame(codec_.get(), frame);
  while (code >= 0) {
    code = avcodec_receive_packet(codec_.get(), packet_.get());
    if (code == AVERROR(EAGAIN) || code == AVERROR_EOF) return {};
    if (code < 0) break;
    packet_->stream_index = stream_->index;
    av_packet_rescale_ts(packet_.get(), codec_->time_base, stream_->time_base);
    code = av_interleaved_write_frame(output_, packet_.get());
  }
  return from_libav(code, "Writing the film failed", Deed::writing);
}

}  // namespace jigtime::media
