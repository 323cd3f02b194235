#include "media/picture_reader.h"

#include <algorithm>
#include <array>
#include <deque>
#include <thread>

#include "media/libav/decoder.h"
#include "media/libav/ends.h"
#include "media/libav/picture_maker.h"
#include "media/libav/source.h"

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

struct Shown {
  ClipTime at;
  FramePtr frame;
};

int threads_here() { return std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, most_threads); }

Result<Decoder> open_decoder(const Source& source, int threads) {
  if (source.pictures() == nullptr) return Error{Code::not_found, source.name() + " has no pictures."};
  Result<Decoder> decoder = Decoder::open(*source.pictures(), BadData::keep, threads);
  if (!decoder) return decoder.error().during(source.name());
  return decoder;
}

}  // namespace

struct PictureReader::Impl {
  std::filesystem::path path;
  std::stop_token stop;
  int threads;
  Source source;
  Decoder decoder;
  Shape shape;
  PictureMaker maker;
  PacketPtr packet;
  AVRational rate;  ///< pictures per second; 0/1 when unknown

  std::optional<Shown> current{};
  std::deque<Shown> ahead{};
  std::optional<ClipTime> last_taken{};
  std::optional<ClipTime> counted_from{};  ///< the last stamp
  std::int64_t counted = 0;                ///< pictures since then
  std::optional<Length> guess_lag{};       ///< how far libav's guesses lie behind, for pictures without stamps
  bool await_key = false;                  ///< after a seek: what comes before the first key picture has no ground
  std::optional<ClipTime> key_at{};        ///< after a seek: pictures shown before it lean on pictures not read
  bool at_end = false;
  bool astray = false;              ///< gave up on the way: where it stands is not known
  std::int64_t damaged_before = 0;  ///< of earlier openings of the file
  std::int64_t damaged = 0;         ///< shown all the same
  std::function<bool()> give_up{};

  ClipTime time_of(const AVFrame& frame);
  Length pictures_to_length(std::int64_t count) const;
  Done take(AVFrame& frame);
  Done decode_more();
  Done fill();
  void advance();
  bool reached_by_going_on(ClipTime t) const;
  Done go_before(ClipTime t);
  Result<bool> jump_to(ClipTime t, Length run_up);
  Done start_again();
  void forget_pictures();
  Result<TimedPicture> show();
};

ClipTime PictureReader::Impl::time_of(const AVFrame& frame) {
  const AVStream& stream = *source.pictures();
  if (const std::optional<ClipTime> stamp = source.clip_time(frame.pts, stream)) {
    counted_from = *stamp;
    counted = 0;
    return *stamp;
  }
  // Some containers stamp only some pictures, AVI none that is not decoded in the order it is shown: count on from the
  // last stamp. What libav guesses lags by an unknown number of pictures; it is only good for telling a hole.
  if (!counted_from) {
    counted_from = key_at.value_or(ClipTime{});
    counted = -1;
  }
  ++counted;
  ClipTime next = *counted_from + pictures_to_length(counted);
  const ClipTime guess = source.clip_time(frame.best_effort_timestamp, stream).value_or(next);
  if (!guess_lag) guess_lag = guess - next;
  if (guess - *guess_lag - next > least_hole) {
    next = guess - *guess_lag;
    counted_from = next;
    counted = 0;
  }
  return next;
}

Length PictureReader::Impl::pictures_to_length(std::int64_t count) const {
  return rate.num > 0 ? Length{scaled(count * rate.den, 1'000'000'000, rate.num)} : Length{count};
}

Done PictureReader::Impl::take(AVFrame& frame) {
  ClipTime at = time_of(frame);
  if (key_at && at < *key_at) return {};
  // Two pictures are never shown at once, whatever their stamps say.
  if (last_taken && at <= *last_taken) at = *last_taken + std::max(pictures_to_length(1), Length{1});
  if (frame.decode_error_flags != 0 || (frame.flags & AV_FRAME_FLAG_CORRUPT) != 0) ++damaged;
  FramePtr kept{av_frame_alloc()};
  if (kept == nullptr) return Error{Code::internal, "There is not enough memory for a picture."};
  av_frame_move_ref(kept.get(), &frame);
  last_taken = at;
  ahead.push_back({at, std::move(kept)});
  return {};
}

Done PictureReader::Impl::decode_more() {
  if (give_up && give_up()) {
    astray = true;
    return Error{Code::cancelled, source.name() + ": the picture is not wanted any more."};
  }
  const Result<bool> got = source.read(*packet);
  if (!got) return got.error();
  at_end = !*got;
  if (*got && await_key) {
    if ((packet->flags & AV_PKT_FLAG_KEY) == 0) return {};
    await_key = false;
    key_at = source.clip_time(packet->pts != AV_NOPTS_VALUE ? packet->pts : packet->dts, *source.pictures());
  }
  return decoder.decode(*got ? packet.get() : nullptr, [this](AVFrame& frame) { return take(frame); });
}

Done PictureReader::Impl::fill() {
  while (ahead.empty() && !at_end) {
    if (const Done decoded = decode_more(); !decoded) return decoded;
  }
  return {};
}

void PictureReader::Impl::advance() {
  current = std::move(ahead.front());
  ahead.pop_front();
}

bool PictureReader::Impl::reached_by_going_on(ClipTime t) const {
  if (astray) return false;
  const std::optional<ClipTime> from = current ? std::optional{current->at} : std::nullopt;
  if (!from) return t <= ClipTime{near_ahead} && last_taken.value_or(ClipTime{}) <= ClipTime{};
  if (t < *from) return false;
  if (t - *from <= near_ahead) return true;
  AVStream& stream = *source.pictures();
  const AVIndexEntry* key =
      avformat_index_get_entry_from_timestamp(&stream, source.ticks(t, stream), AVSEEK_FLAG_BACKWARD);
  const std::optional<ClipTime> key_time = key != nullptr ? source.clip_time(key->timestamp, stream) : std::nullopt;
  return key_time && *key_time <= *from && t - *from <= far_ahead;
}

void PictureReader::Impl::forget_pictures() {
  current.reset();
  ahead.clear();
  last_taken.reset();
  guess_lag.reset();
  counted_from.reset();
  key_at.reset();
  await_key = false;
  at_end = false;
  astray = false;
}

Result<bool> PictureReader::Impl::jump_to(ClipTime t, Length run_up) {
  const AVStream& stream = *source.pictures();
  const std::int64_t ticks = source.ticks(t - run_up, stream);
  if (av_seek_frame(&source.format(), stream.index, ticks, AVSEEK_FLAG_BACKWARD) < 0) return false;
  source.forget_packets();
  decoder.flush();
  forget_pictures();
  await_key = true;
  if (const Done filled = fill(); !filled) return filled.error();
  return !ahead.empty() && ahead.front().at <= t;
}

Done PictureReader::Impl::start_again() {
  Result<Source> opened = Source::open(path, stop);
  if (!opened) return opened.error();
  Result<Decoder> fresh = open_decoder(*opened, threads);
  if (!fresh) return fresh.error();
  damaged_before += decoder.bad_packets();
  source = std::move(*opened);
  decoder = std::move(*fresh);
  source.read_only(source.pictures());
  forget_pictures();
  return {};
}

Done PictureReader::Impl::go_before(ClipTime t) {
  for (const Length run_up : run_ups) {
    const Result<bool> early_enough = jump_to(t, run_up);
    if (!early_enough) return early_enough.error();
    if (*early_enough) return {};
  }
  return start_again();
}

Result<TimedPicture> PictureReader::Impl::show() {
  Result<Picture> picture = maker.make(*current->frame);
  if (!picture) return picture.error().during(source.name());
  return TimedPicture{current->at, std::move(*picture)};
}

PictureReader::PictureReader(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
PictureReader::PictureReader(PictureReader&&) noexcept = default;
PictureReader& PictureReader::operator=(PictureReader&&) noexcept = default;
PictureReader::~PictureReader() = default;

Result<PictureReader> PictureReader::open(const std::filesystem::path& path, int most_width, std::stop_token stop,
                                          int threads) {
  Result<Source> source = Source::open(path, stop);
  if (!source) return source.error();
  if (threads <= 0) threads = threads_here();
  Result<Decoder> decoder = open_decoder(*source, threads);
  if (!decoder) return decoder.error();
  PacketPtr packet{av_packet_alloc()};
  if (packet == nullptr) return Error{Code::internal, "There is not enough memory to read pictures."};
  source->read_only(source->pictures());
  const AVRational rate = picture_rate(*source);
  const Shape shape = shown_shape(*source->pictures());
  return PictureReader{std::unique_ptr<Impl>{new Impl{.path = path,
                                                      .stop = std::move(stop),
                                                      .threads = threads,
                                                      .source = std::move(*source),
                                                      .decoder = std::move(*decoder),
                                                      .shape = shape,
                                                      .maker = PictureMaker{shape, most_width},
                                                      .packet = std::move(packet),
                                                      .rate = rate}}};
}

Result<TimedPicture> PictureReader::at(ClipTime t) {
  Impl& self = *impl_;
  t = std::max(t, ClipTime{});
  if (!self.reached_by_going_on(t)) {
    if (const Done went = self.go_before(t); !went) return went.error();
  }
  while (true) {
    if (const Done filled = self.fill(); !filled) return filled.error();
    if (self.ahead.empty() || (self.current && self.ahead.front().at > t)) break;
    self.advance();
  }
  if (!self.current) {
    return Error{Code::unreadable, self.source.name() +
                                       ": none of its pictures can be decoded. Copy it again from "
                                       "the card; if it is the same there, they are lost."};
  }
  return self.show();
}

Result<std::optional<TimedPicture>> PictureReader::next() {
  Impl& self = *impl_;
  if (const Done filled = self.fill(); !filled) return filled.error();
  if (self.ahead.empty()) return std::optional<TimedPicture>{};
  self.advance();
  Result<TimedPicture> shown = self.show();
  if (!shown) return shown.error();
  return std::optional{std::move(*shown)};
}

void PictureReader::set_most_width(int most_width) { impl_->maker = PictureMaker{impl_->shape, most_width}; }
void PictureReader::set_give_up(std::function<bool()> give_up) { impl_->give_up = std::move(give_up); }
std::int64_t PictureReader::damaged_pictures() const {
  return impl_->damaged_before + impl_->decoder.bad_packets() + impl_->damaged;
}

}  // namespace jigtime::media
