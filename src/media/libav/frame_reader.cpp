#include "media/libav/frame_reader.h"

#include <algorithm>
#include <array>
#include <thread>
#include <utility>

#include "media/libav/ends.h"

namespace jigtime::media {
namespace {

constexpr int most_threads = 4;
constexpr Length least_hole = std::chrono::milliseconds{500};
// Decoding on is cheaper than a seek up to here.
constexpr Length near_ahead = std::chrono::seconds{1};
// An index may know only some of the key pictures, so it is asked about the near future only.
constexpr Length far_ahead = std::chrono::seconds{30};
// How far before the wanted time a seek aims: containers seek by decoding time or without knowing key pictures.
constexpr std::array<Length, 4> run_ups{std::chrono::seconds{0}, std::chrono::seconds{1}, std::chrono::seconds{6},
                                        std::chrono::seconds{30}};

int threads_here() { return std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, most_threads); }

Result<Decoder> open_decoder(const Source& source, int threads) {
  if (source.pictures() == nullptr) return Error{Code::not_found, source.name() + " has no pictures."};
  Result<Decoder> decoder = Decoder::open(*source.pictures(), BadData::keep, threads);
  if (!decoder) return decoder.error().during(source.name());
  return decoder;
}

}  // namespace

ClipTime FrameReader::time_of(const AVFrame& frame) {
  const AVStream& stream = *source_.pictures();
  if (const std::optional<ClipTime> stamp = source_.clip_time(frame.pts, stream)) {
    counted_from_ = *stamp;
    counted_ = 0;
    return *stamp;
  }
  // Some containers stamp only some pictures, AVI none that is not decoded in the order it is shown: count on from the
  // last stamp. What libav guesses lags by an unknown number of pictures; it is only good for telling a hole.
  if (!counted_from_) {
    counted_from_ = key_at_.value_or(ClipTime{});
    counted_ = -1;
  }
  ++counted_;
  ClipTime next = *counted_from_ + pictures_to_length(counted_);
  const ClipTime guess = source_.clip_time(frame.best_effort_timestamp, stream).value_or(next);
  if (!guess_lag_) guess_lag_ = guess - next;
  if (guess - *guess_lag_ - next > least_hole) {
    next = guess - *guess_lag_;
    counted_from_ = next;
    counted_ = 0;
  }
  return next;
}

Length FrameReader::pictures_to_length(std::int64_t count) const {
  return rate_.num > 0 ? Length{scaled(count * rate_.den, 1'000'000'000, rate_.num)} : Length{count};
}

Done FrameReader::take(AVFrame& frame) {
  ClipTime at = time_of(frame);
  if (key_at_ && at < *key_at_) return {};
  // Two pictures are never shown at once, whatever their stamps say.
  if (last_taken_ && at <= *last_taken_) at = *last_taken_ + std::max(pictures_to_length(1), Length{1});
  if (frame.decode_error_flags != 0 || (frame.flags & AV_FRAME_FLAG_CORRUPT) != 0) ++damaged_;
  FramePtr kept{av_frame_alloc()};
  if (kept == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  av_frame_move_ref(kept.get(), &frame);
  last_taken_ = at;
  ahead_.push_back({at, std::move(kept)});
  return {};
}

Done FrameReader::decode_more() {
  if (give_up_ && give_up_()) {
    astray_ = true;
    return Error{Code::cancelled, source_.name() + ": the picture is not wanted any more."};
  }
  const Result<bool> got = source_.read(*packet_);
  if (!got) return got.error();
  at_end_ = !*got;
  if (*got && await_key_) {
    if ((packet_->flags & AV_PKT_FLAG_KEY) == 0) return {};
    await_key_ = false;
    key_at_ = source_.clip_time(packet_->pts != AV_NOPTS_VALUE ? packet_->pts : packet_->dts, *source_.pictures());
  }
  return decoder_.decode(*got ? packet_.get() : nullptr, [this](AVFrame& frame) { return take(frame); });
}

Done FrameReader::fill() {
  while (ahead_.empty() && !at_end_) {
    if (const Done decoded = decode_more(); !decoded) return decoded;
  }
  return {};
}

void FrameReader::advance() {
  current_ = std::move(ahead_.front());
  ahead_.pop_front();
}

bool FrameReader::reached_by_going_on(ClipTime t) const {
  if (astray_) return false;
  const std::optional<ClipTime> from = current_ ? std::optional{current_->at} : std::nullopt;
  if (!from) return t <= ClipTime{near_ahead} && last_taken_.value_or(ClipTime{}) <= ClipTime{};
  if (t < *from) return false;
  if (t - *from <= near_ahead) return true;
  AVStream& stream = *source_.pictures();
  const AVIndexEntry* key =
      avformat_index_get_entry_from_timestamp(&stream, source_.ticks(t, stream), AVSEEK_FLAG_BACKWARD);
  const std::optional<ClipTime> key_time = key != nullptr ? source_.clip_time(key->timestamp, stream) : std::nullopt;
  return key_time && *key_time <= *from && t - *from <= far_ahead;
}

void FrameReader::forget_pictures() {
  current_.reset();
  ahead_.clear();
  last_taken_.reset();
  guess_lag_.reset();
  counted_from_.reset();
  key_at_.reset();
  await_key_ = false;
  at_end_ = false;
  astray_ = false;
}

Result<bool> FrameReader::jump_to(ClipTime t, Length run_up) {
  const AVStream& stream = *source_.pictures();
  const std::int64_t ticks = source_.ticks(t - run_up, stream);
  if (av_seek_frame(&source_.format(), stream.index, ticks, AVSEEK_FLAG_BACKWARD) < 0) return false;
  source_.forget_packets();
  decoder_.flush();
  forget_pictures();
  await_key_ = true;
  if (const Done filled = fill(); !filled) return filled.error();
  return !ahead_.empty() && ahead_.front().at <= t;
}

Done FrameReader::start_again() {
  Result<Source> opened = Source::open(path_, stop_);
  if (!opened) return opened.error();
  Result<Decoder> fresh = open_decoder(*opened, threads_);
  if (!fresh) return fresh.error();
  damaged_before_ += decoder_.bad_packets();
  source_ = std::move(*opened);
  decoder_ = std::move(*fresh);
  source_.read_only(source_.pictures());
  forget_pictures();
  return {};
}

Done FrameReader::go_before(ClipTime t) {
  for (const Length run_up : run_ups) {
    const Result<bool> early_enough = jump_to(t, run_up);
    if (!early_enough) return early_enough.error();
    if (*early_enough) return {};
  }
  return start_again();
}

Result<FrameReader> FrameReader::open(const std::filesystem::path& path, std::stop_token stop, int threads) {
  Result<Source> source = Source::open(path, stop);
  if (!source) return source.error();
  if (threads <= 0) threads = threads_here();
  Result<Decoder> decoder = open_decoder(*source, threads);
  if (!decoder) return decoder.error();
  PacketPtr packet{av_packet_alloc()};
  if (packet == nullptr) return Error{Code::internal, "There is not enough memory to read pictures."};
  source->read_only(source->pictures());
  return FrameReader{path, std::move(stop), threads, std::move(*source), std::move(*decoder), std::move(packet)};
}

FrameReader::FrameReader(std::filesystem::path path, std::stop_token stop, int threads, Source source, Decoder decoder,
                         PacketPtr packet)
    : path_{std::move(path)},
      stop_{std::move(stop)},
      threads_{threads},
      source_{std::move(source)},
      decoder_{std::move(decoder)},
      packet_{std::move(packet)},
      rate_{picture_rate(source_)} {}

Result<const Shown*> FrameReader::at(ClipTime t) {
  t = std::max(t, ClipTime{});
  if (!reached_by_going_on(t)) {
    if (const Done went = go_before(t); !went) return went.error();
  }
  while (true) {
    if (const Done filled = fill(); !filled) return filled.error();
    if (ahead_.empty() || (current_ && ahead_.front().at > t)) break;
    advance();
  }
  if (!current_) {
    return Error{Code::unreadable, source_.name() +
                                       ": none of its pictures can be decoded. Copy it again from "
                                       "the card; if it is the same there, they are lost."};
  }
  return &*current_;
}

Result<const Shown*> FrameReader::next() {
  if (const Done filled = fill(); !filled) return filled.error();
  if (ahead_.empty()) return nullptr;
  advance();
  return &*current_;
}

std::int64_t FrameReader::damaged_pictures() const { return damaged_before_ + decoder_.bad_packets() + damaged_; }

}  // namespace jigtime::media
