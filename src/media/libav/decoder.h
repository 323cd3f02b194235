// The one loop around libav's send and receive.
#pragma once

#include <cstdint>

#include "base/result.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// What to do with what the decoder, or the demuxer, calls damaged.
enum class BadData {
  skip,  ///< leave it out and count it
  keep,  ///< show what there is; count only what gave nothing
};

class Decoder {
 public:
  /// `threads` 1 gives every frame at the earliest. Errors: unsupported.
  static Result<Decoder> open(const AVStream& stream, BadData bad_data, int threads = 1);

  /// Feeds a packet (nullptr: the end) and calls on_frame(AVFrame&) for every frame that comes out.
  /// on_frame returns Done; its first failure ends the loop and is returned. The frame is the decoder's own.
  template <class OnFrame>
  Done decode(const AVPacket* packet, OnFrame&& on_frame) {
    if (packet != nullptr && is_bad(*packet)) return {};
    // A decoder takes everything as long as its frames are fetched, so one attempt is enough.
    if (avcodec_send_packet(codec_.get(), packet) < 0 && packet != nullptr) {
      ++bad_packets_;
      return {};
    }
    while (receive()) {
      const Done used = on_frame(*frame_);
      av_frame_unref(frame_.get());
      if (!used) return used;
    }
    return {};
  }
  /// After a seek.
  void flush() { avcodec_flush_buffers(codec_.get()); }

  AVCodecContext& codec() { return *codec_; }
  std::int64_t bad_packets() const { return bad_packets_; }

 private:
  Decoder(CodecPtr codec, FramePtr frame, BadData bad_data)
      : codec_{std::move(codec)}, frame_{std::move(frame)}, bad_data_{bad_data} {}
  bool is_bad(const AVPacket& packet);
  bool receive();

  CodecPtr codec_;
  FramePtr frame_;
  BadData bad_data_;
  std::int64_t bad_packets_ = 0;
};

}  // namespace jigtime::media
