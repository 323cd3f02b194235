// Writes one media file: the demo's cameras, review copies, the film.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/picture.h"
#include "base/result.h"
#include "base/time.h"

namespace jigtime::media {

struct WriterSettings {
  struct Pictures {
    std::string codec = "libx264";
    int width = 0;   ///< even
    int height = 0;  ///< even
    int rate_num = 30;
    int rate_den = 1;
    int bits_per_second = 0;  ///< 0: constant quality
    int key_every = 30;       ///< pictures
    std::string timecode;     ///< "HH:MM:SS:FF" for containers with a timecode track; empty for none
  };
  struct Sound {
    std::string codec = "aac";
    int sample_rate_hz = 48000;
    int channels = 1;  ///< every channel carries the same sound
    int bits_per_second = 96000;
  };
  /// [begin, end) in the file's own time. Containers without chapters (AVI, WAV, MPEG-TS) leave them out.
  struct Chapter {
    Length begin{0};
    Length end{0};
    std::string title;
  };
  std::string container;  ///< "mp4", "mov", "mpegts", "matroska", "avi", "wav"
  std::optional<Pictures> pictures;
  std::optional<Sound> sound;
  std::optional<WallTime> creation_time;  ///< as the device would write it, right or wrong
  int threads = 1;
  std::string title{};    ///< of the whole file; empty for none
  std::string comment{};  ///< empty for none; see comment_of in probe.h
  std::vector<Chapter> chapters{};
};

/// True when this machine's libav has the encoder, by libav's name.
bool can_encode(const std::string& codec);

/// Writes to `path` itself; the caller chooses a temporary name if it wants all or nothing. Write pictures and sound in
/// turn, never more than some seconds apart: what cannot be interleaved yet waits in memory.
/// Times are exact but for Matroska's rounding to 1 ms. AVI cannot tell of an encoder's delay: with AAC or MP3 the
/// first 1024 or 1105 samples are given up there so that the rest is heard on time.
class Writer {
 public:
  /// Errors: invalid (settings that do not fit each other or the container), not_found, denied, no_space.
  static Result<Writer> open(const std::filesystem::path& path, const WriterSettings& settings);
  Writer(Writer&&) noexcept;
  Writer& operator=(Writer&&) noexcept;
  ~Writer();  ///< a file that was not finished is left as it is

  /// Picture n is shown at n * rate_den / rate_num.
  Done write(const Picture& picture);
  /// Appends samples at the sound's rate.
  Done write(std::span<const float> samples);
  Done finish();

 private:
  struct Impl;
  explicit Writer(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::media
