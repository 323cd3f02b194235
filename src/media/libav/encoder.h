// One stream of a file being written: frames in, packets into the muxer.
#pragma once

#include "base/result.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// The encoder named, unopened, with its place in `output`. `kind` is what it must encode.
/// Errors: invalid (no such encoder here, wrong kind, or one the container cannot hold).
class Encoder {
 public:
  static Result<Encoder> make(AVFormatContext& output, const char* codec_name, AVMediaType kind);

  /// Opens the encoder with what has been set in codec(). Call before the header is written.
  Done open(AVDictionary** options);
  /// Encodes one frame (nullptr: the end) and hands the packets to the muxer.
  Done send(const AVFrame* frame);

  AVCodecContext& codec() { return *codec_; }
  AVStream& stream() { return *stream_; }

 private:
  Encoder(AVFormatContext& output, AVStream& stream, CodecPtr codec, PacketPtr packet)
      : output_{&output}, stream_{&stream}, codec_{std::move(codec)}, packet_{std::move(packet)} {}

  AVFormatContext* output_;
  AVStream* stream_;
  CodecPtr codec_;
  PacketPtr packet_;
};

}  // namespace jigtime::media
