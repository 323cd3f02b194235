#include "media/sound_reader.h"

#include <algorithm>
#include <array>
#include <deque>
#include <string>
#include <vector>

#include "media/libav/decoder.h"
#include "media/libav/ending.h"
#include "media/libav/error.h"
#include "media/libav/mono.h"
#include "media/libav/resampler.h"
#include "media/libav/source.h"

namespace jigtime::media {
namespace {

// Stamps are trusted to say that time jumped only beyond this: containers round them to as much as 1 ms, and some
// cameras' jitter. Position is counted in samples otherwise.
constexpr Length stamp_slack = std::chrono::milliseconds{5};
// Ogg stamps whole pages; libav shares a page's time among its Vorbis packets without knowing which are long (up to
// 8192 samples) and which are short.
constexpr Length vorbis_slack = std::chrono::milliseconds{200};
// Input samples to a block: long enough that calls cost nothing, short enough to stay in the cache.
constexpr std::size_t block_samples = 16384;
// After a seek decoders need some packets to come into step (AAC one, MP3 and Opus up to 80 ms).
constexpr std::array<Length, 3> run_ups{std::chrono::milliseconds{300}, std::chrono::seconds{4},
                                        std::chrono::seconds{60}};
constexpr Length kept_run_up = std::chrono::milliseconds{20};

Length samples_to_length(std::int64_t count, int rate_hz) { return Length{scaled(count, 1'000'000'000, rate_hz)}; }

/// The file with only its sound left to read.
Result<Source> open_source(const std::filesystem::path& path, const std::stop_token& stop) {
  Result<Source> source = Source::open(path, stop);
  if (!source) return source.error();
  if (source->sound() == nullptr) return Error{Code::not_found, source->name() + " has no sound."};
  source->read_only(source->sound());
  return source;
}

/// Sound without a jump in its stamps, one channel, at the file's own rate.
struct Stretch {
  ClipTime begin;
  int rate_hz = 0;
  std::int64_t counted = 0;  ///< samples since begin, those already gone included
  std::vector<float> waiting;

  ClipTime end() const { return begin + samples_to_length(counted, rate_hz); }
};

}  // namespace

struct SoundReader::Impl {
  std::filesystem::path path;
  std::stop_token stop;
  Source source;
  Decoder decoder;
  PacketPtr packet;
  int rate_hz;
  bool broken_by_structure;

  std::deque<Stretch> stretches{};  ///< the first is being given out, a second one only after a jump
  std::optional<Resampler> resampler{};
  std::int64_t given = 0;  ///< output samples of the first stretch
  std::vector<float> out{};
  std::optional<ClipTime> skip_to{};  ///< after a seek: what ends before it is thrown away
  bool at_end = false;
  bool last_was_damaged = false;
  std::uint64_t bytes_before = 0;  ///< of earlier openings of the file
  std::int64_t damage_before = 0;

  Length slack() const;
  Done take(const AVFrame& frame);
  Stretch& stretch_for(const AVFrame& frame, std::optional<ClipTime> stamp);
  Done decode_more();
  Done give(Stretch& stretch, bool whole);
  Result<bool> jump_to(ClipTime t, Length run_up);
  Done decode_first();
  Done start_again(ClipTime t);
  void forget_sound();
};

Length SoundReader::Impl::slack() const {
  return source.sound()->codecpar->codec_id == AV_CODEC_ID_VORBIS ? vorbis_slack : stamp_slack;
}

Stretch& SoundReader::Impl::stretch_for(const AVFrame& frame, std::optional<ClipTime> stamp) {
  if (!stretches.empty()) {
    Stretch& last = stretches.back();
    const Length off = stamp.value_or(last.end()) - last.end();
    if (last.rate_hz == frame.sample_rate && std::chrono::abs(off) <= slack()) return last;
  }
  const ClipTime counted_end = stretches.empty() ? ClipTime{} : stretches.back().end();
  stretches.push_back({stamp.value_or(counted_end), frame.sample_rate, 0, {}});
  return stretches.back();
}

Done SoundReader::Impl::take(const AVFrame& frame) {
  if (frame.nb_samples <= 0 || frame.sample_rate <= 0) return {};
  const std::optional<ClipTime> stamp = source.clip_time(frame.best_effort_timestamp, *source.sound());
  if (skip_to && stamp && *stamp + samples_to_length(frame.nb_samples, frame.sample_rate) <= *skip_to) return {};
  skip_to.reset();
  Stretch& stretch = stretch_for(frame, stamp);
  if (Done mixed = append_mono(frame, stretch.waiting); !mixed) return mixed;
  stretch.counted += frame.nb_samples;
  return {};
}

Done SoundReader::Impl::decode_more() {
  const Result<bool> got = source.read(*packet);
  if (!got) return got.error();
  at_end = !*got;
  if (*got) last_was_damaged = (packet->flags & AV_PKT_FLAG_CORRUPT) != 0;
  return decoder.decode(*got ? packet.get() : nullptr, [this](const AVFrame& frame) { return take(frame); });
}

Done SoundReader::Impl::give(Stretch& stretch, bool whole) {
  if (!resampler || resampler->in_rate_hz() != stretch.rate_hz) {
    Result<Resampler> opened = Resampler::open(stretch.rate_hz, rate_hz);
    if (!opened) return opened.error();
    resampler.emplace(std::move(*opened));
  }
  if (Done converted = resampler->convert(stretch.waiting, out); !converted) return converted;
  stretch.waiting.clear();
  if (!whole) return {};
  return resampler->finish(out);
}

void SoundReader::Impl::forget_sound() {
  stretches.clear();
  resampler.reset();
  given = 0;
  at_end = false;
  last_was_damaged = false;
}

Result<bool> SoundReader::Impl::jump_to(ClipTime t, Length run_up) {
  const AVStream& stream = *source.sound();
  const int code =
      av_seek_frame(&source.format(), stream.index, source.ticks(t - run_up, stream), AVSEEK_FLAG_BACKWARD);
  if (code < 0) return false;
  source.forget_packets();
  decoder.flush();
  forget_sound();
  skip_to = t - kept_run_up;
  const std::int64_t bad_before = decoder.bad_packets();
  if (const Done begun = decode_first(); !begun) return begun.error();
  // Landing in the middle of a packet is no damage.
  damage_before -= decoder.bad_packets() - bad_before;
  return !stretches.empty() && stretches.front().begin <= t;
}

Done SoundReader::Impl::decode_first() {
  while (stretches.empty() && !at_end) {
    if (const Done decoded = decode_more(); !decoded) return decoded;
  }
  return {};
}

Done SoundReader::Impl::start_again(ClipTime t) {
  const std::uint64_t read_before = source.file().bytes_read();
  const std::int64_t damaged_before = decoder.bad_packets() + source.failures();
  Result<Source> opened = open_source(path, stop);
  if (!opened) return opened.error();
  Result<Decoder> fresh = Decoder::open(*opened->sound(), BadData::skip);
  if (!fresh) return fresh.error();
  source = std::move(*opened);
  decoder = std::move(*fresh);
  bytes_before += read_before;
  damage_before += damaged_before;
  forget_sound();
  skip_to = t - kept_run_up;
  return decode_first();
}

SoundReader::SoundReader(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
SoundReader::SoundReader(SoundReader&&) noexcept = default;
SoundReader& SoundReader::operator=(SoundReader&&) noexcept = default;
SoundReader::~SoundReader() = default;

Result<SoundReader> SoundReader::open(const std::filesystem::path& path, int sample_rate_hz, std::stop_token stop) {
  if (sample_rate_hz < 1000 || sample_rate_hz > 384000) {
    return Error{Code::invalid, "Sound is read at 1000 to 384000 Hz, not " + std::to_string(sample_rate_hz) + "."};
  }
  Result<Source> source = open_source(path, stop);
  if (!source) return source.error();
  Result<Decoder> decoder = Decoder::open(*source->sound(), BadData::skip);
  if (!decoder) return decoder.error().during(source->name());
  PacketPtr packet{av_packet_alloc()};
  if (packet == nullptr) return Error{Code::internal, "There is not enough memory to read sound."};
  const bool broken = broken_ending(source->file(), source->format().iformat->name).has_value();
  return SoundReader{std::unique_ptr<Impl>{new Impl{.path = path,
                                                    .stop = std::move(stop),
                                                    .source = std::move(*source),
                                                    .decoder = std::move(*decoder),
                                                    .packet = std::move(packet),
                                                    .rate_hz = sample_rate_hz,
                                                    .broken_by_structure = broken}}};
}

Result<std::optional<SoundBlock>> SoundReader::next() {
  Impl& self = *impl_;
  self.out.clear();
  while (self.out.empty()) {
    while (!self.at_end && self.stretches.size() < 2 &&
           (self.stretches.empty() || self.stretches.front().waiting.size() < block_samples)) {
      if (const Done decoded = self.decode_more(); !decoded) return decoded.error();
    }
    if (self.stretches.empty()) return std::optional<SoundBlock>{};
    Stretch& stretch = self.stretches.front();
    const bool whole = self.at_end || self.stretches.size() > 1;
    const ClipTime start = stretch.begin + samples_to_length(self.given, self.rate_hz);
    if (const Done gave = self.give(stretch, whole); !gave) return gave.error();
    self.given += static_cast<std::int64_t>(self.out.size());
    if (whole) {
      self.stretches.pop_front();
      self.given = 0;
    }
    if (!self.out.empty()) return std::optional{SoundBlock{start, self.out}};
  }
  return std::optional<SoundBlock>{};
}

Done SoundReader::seek(ClipTime t) {
  // Vorbis packets are stamped right only when counted from the start.
  if (impl_->slack() != stamp_slack) return impl_->start_again(t);
  for (const Length run_up : run_ups) {
    const Result<bool> early_enough = impl_->jump_to(t, run_up);
    if (!early_enough) return early_enough.error();
    if (*early_enough) return {};
  }
  // No index, or one that lies: from the beginning.
  return impl_->start_again(t);
}

std::int64_t SoundReader::damaged_packets() const {
  return impl_->damage_before + impl_->decoder.bad_packets() + impl_->source.failures();
}
std::uint64_t SoundReader::bytes_read() const { return impl_->bytes_before + impl_->source.file().bytes_read(); }
bool SoundReader::broke_off() const {
  return impl_->broken_by_structure || (impl_->at_end && impl_->last_was_damaged) || impl_->source.gave_up();
}

}  // namespace jigtime::media
