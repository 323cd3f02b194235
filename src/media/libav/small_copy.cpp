#include "media/small_copy.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "media/libav/error.h"
#include "media/libav/file_io.h"
#include "media/libav/small_pictures.h"
#include "media/libav/sound_encoder.h"
#include "media/sound_reader.h"

namespace jigtime::media {
namespace {

constexpr int sound_rate_hz = 48'000;
constexpr int sound_bits_per_second = 80'000;
// The muxer keeps what cannot be interleaved yet: sound is written no further ahead of the pictures than this.
constexpr Length sound_ahead = std::chrono::milliseconds{500};
// A stamp that says the sound jumped by more than this is a fault of the file, and nothing is filled up.
constexpr double most_hole_s = 24 * 3600;

/// Sound out of the source into the copy, every sample at its clip time.
class SoundCopy {
 public:
  SoundCopy(SoundReader reader, SoundEncoder encoder, SoundBlock first, Length offset)
      : reader_{std::move(reader)}, encoder_{std::move(encoder)}, offset_{offset} {
    pending_ = std::vector<float>(first.samples.begin(), first.samples.end());
    start_ = first.start;
  }

  Done write_until(ClipTime t) {
    while (pending_ && start_ <= t) {
      if (const Done wrote = write_pending(); !wrote) return wrote;
      const auto block = reader_.next();
      if (!block) return block.error();
      pending_.reset();
      if (!*block) break;
      pending_ = std::vector<float>((*block)->samples.begin(), (*block)->samples.end());
      start_ = (*block)->start;
    }
    return {};
  }
  Done finish() { return encoder_.finish(); }

 private:
  Done write_pending() {
    const double at = std::round(to_seconds(start_.time_since_epoch() + offset_) * sound_rate_hz);
    const double hole = at - static_cast<double>(written_);
    std::span<const float> samples{*pending_};
    if (hole < 0) samples = samples.subspan(std::min(samples.size(), static_cast<std::size_t>(-hole)));
    if (hole > 0 && hole < most_hole_s * sound_rate_hz) {
      const std::vector<float> silence(sound_rate_hz, 0.0F);
      for (auto left = static_cast<std::size_t>(hole); left > 0;) {
        const std::size_t some = std::min(left, silence.size());
        if (const Done wrote = encoder_.write(std::span{silence}.first(some)); !wrote) return wrote;
        written_ += static_cast<std::int64_t>(some);
        left -= some;
      }
    }
    written_ += static_cast<std::int64_t>(samples.size());
    return encoder_.write(samples);
  }

  SoundReader reader_;
  SoundEncoder encoder_;
  Length offset_;
  std::optional<std::vector<float>> pending_;
  ClipTime start_{};
  std::int64_t written_ = 0;
};

struct FirstSound {
  SoundReader reader;
  std::vector<float> samples;
  ClipTime start;
};

/// Nothing where the source has no sound that can be read; why stands in `left_out` unless it simply has none.
Result<std::optional<FirstSound>> first_sound(const std::filesystem::path& source, const std::stop_token& stop,
                                              std::string& left_out) {
  auto reader = SoundReader::open(source, sound_rate_hz, stop);
  if (stop.stop_requested()) return Error{Code::cancelled, "The copy is not wanted any more."};
  if (!reader) {
    if (reader.error().code() != Code::not_found) left_out = reader.error().message();
    return std::optional<FirstSound>{};
  }
  const auto block = reader->next();
  if (!block) return block.error();
  if (!*block) return std::optional<FirstSound>{};
  FirstSound first{std::move(*reader), {(*block)->samples.begin(), (*block)->samples.end()}, (*block)->start};
  return std::optional{std::move(first)};
}

struct Output {
  std::unique_ptr<FileIo> file;
  OutputPtr format;
};

Result<Output> open_output(const std::filesystem::path& to) {
  auto file = FileIo::write(to);
  if (!file) return file.error();
  AVFormatContext* made = nullptr;
  const int code = avformat_alloc_output_context2(&made, nullptr, "mp4", nullptr);
  Output output{std::move(*file), OutputPtr{made}};
  if (code < 0) return from_libav(code, "A copy cannot be made", Deed::writing);
  made->pb = output.file->io();
  made->flags |= AVFMT_FLAG_CUSTOM_IO;
  return output;
}

Done finish(Output& output) {
  int code = av_write_trailer(output.format.get());
  if (code >= 0) {
    avio_flush(output.file->io());
    code = output.file->io()->error;
  }
  if (code < 0) return from_libav(code, "The end of the copy cannot be written", Deed::writing);
  return {};
}

}  // namespace

Result<std::string> write_small_copy(const std::filesystem::path& source, const std::filesystem::path& to,
                                     const SmallCopySettings& settings, const std::stop_token& stop,
                                     const std::function<void(ClipTime)>& reached) {
  std::string left_out;
  auto frames = FrameReader::open(source, stop, std::max(settings.threads, 1));
  if (!frames) return frames.error();
  auto shown = frames->at(ClipTime{});
  if (!shown) return shown.error();
  auto heard = first_sound(source, stop, left_out);
  if (!heard) return heard.error();
  // Nothing in the copy may lie before its zero: sound that begins before the first picture shifts them all.
  const Length offset = *heard ? std::max(Length{0}, -(*heard)->start.time_since_epoch()) : Length{0};
  auto output = open_output(to);
  if (!output) return output.error();
  auto pictures = SmallPictures::open(*output->format, frames->file(), *(*shown)->frame, offset, settings);
  if (!pictures) return pictures.error();
  std::optional<SoundCopy> sound;
  if (*heard) {
    auto encoder = SoundEncoder::open(*output->format, {"aac", sound_rate_hz, 1, sound_bits_per_second});
    if (!encoder) return encoder.error();
    FirstSound& first = **heard;
    sound.emplace(std::move(first.reader), std::move(*encoder), SoundBlock{first.start, first.samples}, offset);
  }
  const int header = avformat_write_header(output->format.get(), nullptr);
  if (header < 0) return from_libav(header, "The start of the copy cannot be written", Deed::writing);
  while (*shown != nullptr) {
    const ClipTime at = (*shown)->at;
    if (const Done wrote = pictures->write(**shown); !wrote) return wrote.error();
    if (sound) {
      if (const Done wrote = sound->write_until(at + sound_ahead); !wrote) return wrote.error();
    }
    if (reached) reached(at);
    shown = frames->next();
    if (!shown) return shown.error();
  }
  if (const Done done = pictures->finish(); !done) return done.error();
  if (sound) {
    if (const Done wrote = sound->write_until(ClipTime::max()); !wrote) return wrote.error();
    if (const Done done = sound->finish(); !done) return done.error();
  }
  if (const Done done = finish(*output); !done) return done.error();
  return left_out;
}

}  // namespace jigtime::media
