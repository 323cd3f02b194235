// The sound of one file as mono samples with their clip times.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <stop_token>

#include "base/pcm.h"
#include "base/result.h"

namespace jigtime::media {

/// Decodes sound only: other streams are discarded by the demuxer. All channels are averaged to one.
/// A damaged packet is skipped and counted; its time shows as a gap between blocks.
class SoundReader {
 public:
  /// Errors as probe; not_found when the file has no sound.
  static Result<SoundReader> open(const std::filesystem::path& path, int sample_rate_hz, std::stop_token stop = {});
  SoundReader(SoundReader&&) noexcept;
  SoundReader& operator=(SoundReader&&) noexcept;
  ~SoundReader();

  /// Nothing at the end. A block starts where the one before it ended, to the nanosecond of rounding, unless the file's
  /// own stamps lie more than 5 ms from the count of samples since the last jump (Ogg Vorbis: 200 ms, since its packets
  /// have no stamps of their own); then it starts at the stamp. All samples are finite. A file that breaks off mid-way
  /// ends there and says so in damage().
  Result<std::optional<SoundBlock>> next();
  /// The next block starts at or before `t` and holds it (or the sound's end is reached).
  Done seek(ClipTime t);

  std::int64_t damaged_packets() const;
  std::uint64_t bytes_read() const;  ///< asked of the file system so far
  bool broke_off() const;            ///< the file ended before its container said it would

 private:
  struct Impl;
  explicit SoundReader(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::media
