#include "media/libav/ends.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

extern "C" {
#include <libavutil/intreadwrite.h>
}

namespace jigtime::media {
namespace {

constexpr std::int64_t first_tail_bytes = 1024 * 1024;
constexpr Length first_tail_length = std::chrono::seconds{2};
constexpr int growth = 8;

/// Latest end of one stream's packets, in its own ticks.
class Latest {
 public:
  Latest(const AVStream* stream, AVRational rate) : stream_{stream}, rate_{rate} {}

  bool wanted() const { return stream_ != nullptr && end_ == unseen; }
  void look_at(const AVPacket& packet) {
    constexpr int not_shown = AV_PKT_FLAG_DISCARD | AV_PKT_FLAG_CORRUPT;
    if (stream_ == nullptr || packet.stream_index != stream_->index || (packet.flags & not_shown) != 0) return;
    if (packet.pts != AV_NOPTS_VALUE && packet.dts != AV_NOPTS_VALUE) lag_ = std::max(lag_, packet.pts - packet.dts);
    // A last picture without a stamp is shown as long after its decoding as the others.
    const std::int64_t begin =
        packet.pts == AV_NOPTS_VALUE && packet.dts != AV_NOPTS_VALUE ? packet.dts + lag_ : packet.pts;
    if (begin == AV_NOPTS_VALUE) return;
    const std::int64_t end = begin + std::max<std::int64_t>(length_of(packet) - padding(packet), 0);
    end_ = std::max(end_, end);
  }
  std::optional<ClipTime> in(const Source& source) const {
    return end_ != unseen ? source.clip_time(end_, *stream_) : std::nullopt;
  }

 private:
  static constexpr std::int64_t unseen = std::numeric_limits<std::int64_t>::min();

  std::int64_t length_of(const AVPacket& packet) const {
    if (packet.duration > 0) return packet.duration;
    if (stream_->codecpar->codec_type == AVMEDIA_TYPE_AUDIO || rate_.num <= 0) return 0;
    return av_rescale_q(1, av_inv_q(rate_), stream_->time_base);
  }
  /// Samples at the packet's end that the encoder made up, in ticks.
  std::int64_t padding(const AVPacket& packet) const {
    std::size_t size = 0;
    const std::uint8_t* data = av_packet_get_side_data(&packet, AV_PKT_DATA_SKIP_SAMPLES, &size);
    if (data == nullptr || size < 10 || stream_->codecpar->sample_rate <= 0) return 0;
    return av_rescale_q(AV_RL32(data + 4), {1, stream_->codecpar->sample_rate}, stream_->time_base);
  }

  const AVStream* stream_;
  AVRational rate_;
  std::int64_t end_ = unseen;
  std::int64_t lag_ = 0;
};

bool seek_to_byte(Source& source, std::int64_t from_end) {
  const std::int64_t at = std::max<std::int64_t>(source.file().size() - from_end, 0);
  return av_seek_frame(&source.format(), -1, at, AVSEEK_FLAG_BYTE) >= 0;
}

/// On the container's own time line; nothing when the container does not say.
std::optional<Length> declared_end(const Source& source) {
  std::optional<Length> latest;
  for (const AVStream* stream : {source.pictures(), source.sound()}) {
    if (stream == nullptr) continue;
    const std::optional<Length> begin = to_length(stream->start_time, stream->time_base);
    const std::optional<Length> length = to_length(stream->duration, stream->time_base);
    if (length) latest = std::max(latest.value_or(Length{0}), begin.value_or(Length{0}) + *length);
  }
  if (latest) return latest;
  const std::optional<Length> whole = to_length(source.format().duration, AV_TIME_BASE_Q);
  const std::optional<Length> begin = to_length(source.format().start_time, AV_TIME_BASE_Q);
  if (!whole) return std::nullopt;
  return begin.value_or(Length{0}) + *whole;
}

bool seek_to_time(Source& source, Length at) {
  const AVStream* stream = source.pictures() != nullptr ? source.pictures() : source.sound();
  const std::int64_t ticks = source.ticks(ClipTime{at - source.origin()}, *stream);
  return av_seek_frame(&source.format(), stream->index, ticks, AVSEEK_FLAG_BACKWARD) >= 0;
}

/// Places the reader `step` growths before the end. False when that is the start or before it.
bool go_back(Source& source, int step) {
  std::int64_t factor = 1;
  for (int i = 0; i < step; ++i) factor *= growth;
  bool further = true;
  // Where stamps jump or wrap only bytes lead to the end.
  if ((source.format().iformat->flags & AVFMT_TS_DISCONT) != 0) {
    further = first_tail_bytes * factor < source.file().size() && seek_to_byte(source, first_tail_bytes * factor);
    if (!further) seek_to_byte(source, source.file().size());
  } else {
    const std::optional<Length> end = declared_end(source);
    const Length at = end.value_or(Length{0}) - first_tail_length * factor;
    further = end && at > Length{0} && seek_to_time(source, at);
    if (!further) seek_to_time(source, std::min(source.origin(), Length{0}));
  }
  source.forget_packets();
  return further;
}

}  // namespace

AVRational picture_rate(const Source& source) {
  // The rates that cameras are set to (SMPTE and ITU-R practice).
  constexpr std::array<AVRational, 12> usual{{{24000, 1001},
                                              {24, 1},
                                              {25, 1},
                                              {30000, 1001},
                                              {30, 1},
                                              {48, 1},
                                              {50, 1},
                                              {60000, 1001},
                                              {60, 1},
                                              {100, 1},
                                              {120000, 1001},
                                              {120, 1}}};
  if (source.pictures() == nullptr) return {0, 1};
  const AVRational rate = av_guess_frame_rate(&source.format(), source.pictures(), nullptr);
  if (rate.num <= 0 || rate.den <= 0) return {0, 1};
  // An average over stamps rounded to 1 ms is a little off; 29.97 and 30 differ by three times as much.
  for (const AVRational& candidate : usual) {
    if (std::abs(av_q2d(candidate) / av_q2d(rate) - 1.0) < 0.0003) return candidate;
  }
  return rate;
}

Result<Ends> find_ends(Source& source) {
  source.read_only(nullptr);
  Latest pictures{source.pictures(), picture_rate(source)};
  Latest sound{source.sound(), {0, 1}};
  PacketPtr packet{av_packet_alloc()};
  if (packet == nullptr) return Error{Code::internal, "There is not enough memory to read a file."};
  for (int step = 0; pictures.wanted() || sound.wanted(); ++step) {
    const bool further = go_back(source, step);
    while (true) {
      const Result<bool> got = source.read(*packet);
      if (!got) return got.error();
      if (!*got) break;
      pictures.look_at(*packet);
      sound.look_at(*packet);
    }
    if (!further) break;
  }
  return Ends{pictures.in(source), sound.in(source)};
}

}  // namespace jigtime::media
