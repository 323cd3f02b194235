#include "media/libav/source.h"

#include <algorithm>
#include <array>
#include <memory>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "media/libav/decoder.h"
#include "media/libav/ending.h"
#include "media/libav/error.h"

namespace jigtime::media {
namespace {

/// libav's names of the containers that cameras, telephones and sound recorders write. Play lists, subtitles, still
/// pictures and everything that names other files are left out.
constexpr std::array<std::string_view, 19> known_containers{"mov,mp4,m4a,3gp,3g2,mj2",
                                                            "matroska,webm",
                                                            "mpegts",
                                                            "mpeg",
                                                            "avi",
                                                            "wav",
                                                            "w64",
                                                            "aiff",
                                                            "caf",
                                                            "flac",
                                                            "mp3",
                                                            "aac",
                                                            "ogg",
                                                            "asf",
                                                            "flv",
                                                            "mxf",
                                                            "dv",
                                                            "amr",
                                                            "au"};

// Read only as long as a stream has not shown what it is: pictures or sound may begin late.
constexpr std::int64_t most_probe_bytes = 20LL * 1024 * 1024;
constexpr std::int64_t most_probe_time = 15LL * AV_TIME_BASE;
// A first picture further in than this is not looked for: the stamps of the packets have to do.
constexpr int most_head_packets = 5000;
constexpr std::int64_t most_head_bytes = 64LL * 1024 * 1024;
// A demuxer may fail on one packet and go on with the next.
constexpr int most_failures_in_a_row = 64;

int refuse_to_open(AVFormatContext*, AVIOContext**, const char*, int, AVDictionary**) { return AVERROR(EPERM); }

int stop_asked(void* file) { return static_cast<FileIo*>(file)->stop_requested() ? 1 : 0; }

bool is_moving(const AVStream& stream) {
  constexpr int still = AV_DISPOSITION_ATTACHED_PIC | AV_DISPOSITION_TIMED_THUMBNAILS | AV_DISPOSITION_STILL_IMAGE;
  return stream.codecpar->codec_type == AVMEDIA_TYPE_VIDEO && (stream.disposition & still) == 0;
}

/// Sound that begins late may not have told its rate yet.
bool is_sound(const AVStream& stream) {
  return stream.codecpar->codec_type == AVMEDIA_TYPE_AUDIO && stream.codecpar->codec_id != AV_CODEC_ID_NONE;
}

/// Decodable first, then the one the file calls its main one, then the larger picture; the earlier one on a tie.
bool better(const AVStream& a, const AVStream& b) {
  const auto rank = [](const AVStream& stream) {
    const bool decodable = avcodec_find_decoder(stream.codecpar->codec_id) != nullptr;
    const bool main = (stream.disposition & AV_DISPOSITION_DEFAULT) != 0;
    return std::array<std::int64_t, 3>{decodable ? 1 : 0, main ? 1 : 0,
                                       static_cast<std::int64_t>(stream.codecpar->width) * stream.codecpar->height};
  };
  return rank(a) > rank(b);
}

Error not_media(const std::string& name) {
  return {Code::unsupported, name +
                                 " is no recording: its content is of no kind that cameras or sound recorders "
                                 "write. If a camera made it, copy it again from the card."};
}

}  // namespace

std::optional<Length> to_length(std::int64_t ticks, AVRational base) {
  if (ticks == AV_NOPTS_VALUE || base.num <= 0 || base.den <= 0) return std::nullopt;
  const Length length{scaled(ticks, std::int64_t{base.num} * 1'000'000'000, base.den)};
  if (!within_reach(length)) return std::nullopt;
  return length;
}

Result<Source> Source::open(const std::filesystem::path& path, std::stop_token stop) {
  Source source;
  source.name_ = "\"" + to_utf8(path.filename().string()) + "\"";
  Result<std::unique_ptr<FileIo>> file = FileIo::read(path, std::move(stop));
  if (!file) return file.error();
  source.file_ = std::move(*file);
  if (const Done opened = source.open_container(); !opened) return opened.error();
  if (const Done chosen = source.choose_streams(); !chosen) return chosen.error();
  if (const Done found = source.find_origin(); !found) return found.error();
  return source;
}

Source& Source::operator=(Source&& other) noexcept {
  if (this == &other) return *this;
  // Member by member the old file would be closed before the context that reads through it.
  std::destroy_at(this);
  return *std::construct_at(this, std::move(other));
}

Done Source::open_container() {
  const AVInputFormat* kind = nullptr;
  const int score = av_probe_input_buffer2(file_->io(), &kind, "", nullptr, 0, 0);
  if (score == AVERROR_EXIT) return from_libav(score, "Opening " + name_);
  if (score < 0 || kind == nullptr ||
      std::find(known_containers.begin(), known_containers.end(), kind->name) == known_containers.end()) {
    return starts_blank(*file_) ? blank_file(name_) : not_media(name_);
  }
  AVFormatContext* raw = avformat_alloc_context();
  if (raw == nullptr) return Error{Code::internal, "There is not enough memory to open a file."};
  raw->pb = file_->io();
  raw->flags |= AVFMT_FLAG_CUSTOM_IO;
  raw->probesize = most_probe_bytes;
  raw->max_analyze_duration = most_probe_time;
  raw->io_open = refuse_to_open;
  raw->interrupt_callback = {stop_asked, file_.get()};
  // On failure libav frees the context itself.
  int code = avformat_open_input(&raw, "", kind, nullptr);
  if (code < 0) return why_unopened(code, *file_, kind->name, name_);
  format_.reset(raw);
  code = avformat_find_stream_info(raw, nullptr);
  if (code < 0) return why_unopened(code, *file_, kind->name, name_);
  return {};
}

Done Source::choose_streams() {
  for (unsigned i = 0; i < format_->nb_streams; ++i) {
    AVStream* stream = format_->streams[i];
    if (is_moving(*stream) && (pictures_ == nullptr || better(*stream, *pictures_))) pictures_ = stream;
    if (is_sound(*stream) && (sound_ == nullptr || better(*stream, *sound_))) sound_ = stream;
  }
  if (pictures_ == nullptr && sound_ == nullptr) {
    return Error{Code::unsupported, name_ + " holds neither sound nor moving pictures."};
  }
  read_only(nullptr);
  return {};
}

bool Source::can_decode(const AVStream& stream) const {
  return avcodec_find_decoder(stream.codecpar->codec_id) != nullptr;
}

Done Source::find_origin() {
  const AVStream& stream = pictures_ != nullptr ? *pictures_ : *sound_;
  Result<std::optional<Length>> first = first_presented(stream);
  if (!first) return first.error();
  const std::optional<Length> stamped = to_length(stream.start_time, stream.time_base);
  origin_ = first->value_or(stamped.value_or(Length{0}));
  return {};
}

Result<std::optional<Length>> Source::first_presented(const AVStream& stream) {
  // As the readers will have it: damaged pictures are shown, damaged sound is left out.
  Result<Decoder> decoder = Decoder::open(stream, &stream == pictures_ ? BadData::keep : BadData::skip);
  if (!decoder) return std::optional<Length>{};
  std::deque<PacketPtr> kept;
  std::optional<Length> first;
  std::optional<Length> first_decoded;
  const auto take = [&](const AVFrame& frame) -> Done {
    // A container that keeps only the order of decoding (AVI) shows its first picture at the start of the first packet.
    if (!first) first = frame.pts == AV_NOPTS_VALUE ? first_decoded : to_length(frame.pts, stream.time_base);
    return {};
  };
  std::int64_t bytes = 0;
  while (!first && kept.size() < most_head_packets && bytes < most_head_bytes) {
    PacketPtr packet{av_packet_alloc()};
    if (packet == nullptr) return Error{Code::internal, "There is not enough memory to read a file."};
    const Result<bool> got = read(*packet);
    if (!got) return got.error();
    const bool ours = *got && packet->stream_index == stream.index;
    if (ours && !first_decoded) first_decoded = to_length(packet->dts, stream.time_base);
    if (!*got || ours) {
      if (const Done decoded = decoder->decode(*got ? packet.get() : nullptr, take); !decoded) return decoded.error();
    }
    if (!*got) break;
    bytes += packet->size;
    kept.push_back(std::move(packet));
  }
  ahead_ = std::move(kept);
  return first;
}

std::optional<ClipTime> Source::clip_time(std::int64_t ticks, const AVStream& stream) const {
  const std::optional<Length> length = to_length(ticks, stream.time_base);
  if (!length) return std::nullopt;
  return ClipTime{*length - origin_};
}

std::int64_t Source::ticks(ClipTime t, const AVStream& stream) const {
  const Length on_line = t.time_since_epoch() + origin_;
  return av_rescale_q_rnd(on_line.count(), {1, 1'000'000'000}, stream.time_base, AV_ROUND_DOWN);
}

void Source::read_only(const AVStream* wanted) {
  for (unsigned i = 0; i < format_->nb_streams; ++i) {
    AVStream* stream = format_->streams[i];
    const bool chosen = wanted == nullptr ? stream == pictures_ || stream == sound_ : stream == wanted;
    stream->discard = chosen ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
  }
  std::erase_if(ahead_,
                [&](const PacketPtr& packet) { return wanted != nullptr && packet->stream_index != wanted->index; });
}

Result<bool> Source::read(AVPacket& packet) {
  av_packet_unref(&packet);
  if (!ahead_.empty()) {
    av_packet_move_ref(&packet, ahead_.front().get());
    ahead_.pop_front();
    return true;
  }
  for (int failures = 0; failures < most_failures_in_a_row;) {
    const int code = av_read_frame(format_.get(), &packet);
    if (file_->stop_requested()) return from_libav(AVERROR_EXIT, "Reading " + name_);
    if (code == AVERROR_EOF) return false;
    if (code < 0) {
      ++failures_;
      ++failures;
      continue;
    }
    // Streams found late, and those of other programmes, come through in spite of being discarded.
    if (format_->streams[packet.stream_index]->discard == AVDISCARD_ALL) {
      av_packet_unref(&packet);
      continue;
    }
    mend_avi_stamps(packet);
    return true;
  }
  gave_up_ = true;
  return false;
}

/// AVI has no stamps: libav counts the chunks it reads, and after a damaged place counts on as if nothing were missing.
/// The index knows what belongs where.
void Source::mend_avi_stamps(AVPacket& packet) {
  constexpr std::int64_t chunk_head = 8;
  AVStream& stream = *format_->streams[packet.stream_index];
  if (std::string_view{format_->iformat->name} != "avi" || packet.dts == AV_NOPTS_VALUE) return;
  const std::int64_t wanted = packet.pos - chunk_head;
  int low = 0;
  int high = avformat_index_get_entries_count(&stream);
  while (low < high) {
    const int middle = low + (high - low) / 2;
    if (avformat_index_get_entry(&stream, middle)->pos < wanted) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  std::int64_t& shift = avi_shift_[stream.index];
  const AVIndexEntry* entry = avformat_index_get_entry(&stream, low);
  if (entry != nullptr && entry->pos == wanted) {
    // Uncompressed sound is indexed in bytes.
    const bool in_bytes = av_get_bits_per_sample(stream.codecpar->codec_id) > 0 && stream.codecpar->block_align > 0;
    shift = entry->timestamp / (in_bytes ? stream.codecpar->block_align : 1) - packet.dts;
  }
  packet.dts += shift;
  if (packet.pts != AV_NOPTS_VALUE) packet.pts += shift;
}

}  // namespace jigtime::media
