#include "media/libav/decoder.h"

#include <string>

#include "media/libav/error.h"

namespace jigtime::media {

Result<Decoder> Decoder::open(const AVStream& stream, BadData bad_data, int threads) {
  const AVCodec* found = avcodec_find_decoder(stream.codecpar->codec_id);
  if (found == nullptr) {
    return Error{Code::unsupported, std::string{"No decoder for "} + avcodec_get_name(stream.codecpar->codec_id) +
                                        " is installed. Convert the file to H.264 and AAC in an MP4 file."};
  }
  CodecPtr codec{avcodec_alloc_context3(found)};
  FramePtr frame{av_frame_alloc()};
  if (codec == nullptr || frame == nullptr) return Error{Code::internal, "There is not enough memory for a decoder."};
  int code = avcodec_parameters_to_context(codec.get(), stream.codecpar);
  // With it libav moves the stamp of a frame whose priming it has cut off.
  codec->pkt_timebase = stream.time_base;
  codec->thread_count = threads;
  codec->err_recognition = AV_EF_CRCCHECK;
  if (code >= 0) code = avcodec_open2(codec.get(), found, nullptr);
  if (code < 0) return from_libav(code, std::string{"The decoder for "} + found->name + " cannot start");
  return Decoder{std::move(codec), std::move(frame), bad_data};
}

bool Decoder::is_bad(const AVPacket& packet) {
  const bool flagged = (packet.flags & AV_PKT_FLAG_CORRUPT) != 0;
  if (!flagged || bad_data_ == BadData::keep) return false;
  ++bad_packets_;
  return true;
}

bool Decoder::receive() {
  // A damaged frame is reported once and forgotten by the decoder; the bound is for decoders that do not.
  for (int attempt = 0; attempt < 16; ++attempt) {
    const int code = avcodec_receive_frame(codec_.get(), frame_.get());
    if (code == AVERROR(EAGAIN) || code == AVERROR_EOF) return false;
    if (code >= 0) return true;
    ++bad_packets_;
  }
  return false;
}

}  // namespace jigtime::media
