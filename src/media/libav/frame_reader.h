// The decoded pictures of one file, by clip time: where every picture's own time is found.
#pragma once

#include <cstdint>
#include <deque>
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>

#include "base/result.h"
#include "media/libav/decoder.h"
#include "media/libav/source.h"

namespace jigtime::media {

struct Shown {
  ClipTime at;  ///< when it begins to be shown
  FramePtr frame;
};

class FrameReader {
 public:
  /// `threads` as PictureReader::open.
  static Result<FrameReader> open(const std::filesystem::path& path, std::stop_token stop, int threads);

  /// As PictureReader::at; valid until the next call.
  Result<const Shown*> at(ClipTime t);
  /// The one after the last returned; null at the end.
  Result<const Shown*> next();

  const Source& file() const { return source_; }
  void set_give_up(std::function<bool()> give_up) { give_up_ = std::move(give_up); }
  std::int64_t damaged_pictures() const;

 private:
  FrameReader(std::filesystem::path path, std::stop_token stop, int threads, Source source, Decoder decoder,
              PacketPtr packet);
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

  std::filesystem::path path_;
  std::stop_token stop_;
  int threads_;
  Source source_;
  Decoder decoder_;
  PacketPtr packet_;
  AVRational rate_;  ///< pictures per second; 0/1 when unknown

  std::optional<Shown> current_{};
  std::deque<Shown> ahead_{};
  std::optional<ClipTime> last_taken_{};
  std::optional<ClipTime> counted_from_{};  ///< the last stamp
  std::int64_t counted_ = 0;                ///< pictures since then
  std::optional<Length> guess_lag_{};       ///< how far libav's guesses lie behind, for pictures without stamps
  bool await_key_ = false;                  ///< after a seek: what comes before the first key picture has no ground
  std::optional<ClipTime> key_at_{};        ///< after a seek: pictures shown before it lean on pictures not read
  bool at_end_ = false;
  bool astray_ = false;              ///< gave up on the way: where it stands is not known
  std::int64_t damaged_before_ = 0;  ///< of earlier openings of the file
  std::int64_t damaged_ = 0;         ///< shown all the same
  std::function<bool()> give_up_{};
};

}  // namespace jigtime::media
