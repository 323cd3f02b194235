// Clips made in the test: a dark film with one flash and a silent sound with one click, both at known places; and other
// shapes of them made by the ffmpeg program, which is the outside reference too.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/time.h"
#include "media/writer.h"

namespace jigtime::test {

struct ClipPlan {
  std::string container = "mp4";
  std::string picture_codec = "libx264";  ///< empty: no pictures
  std::string sound_codec = "aac";        ///< empty: no sound
  int width = 160;
  int height = 120;
  int rate_num = 30;
  int rate_den = 1;
  int pictures = 60;
  int flash_at = 30;  ///< picture
  int channels = 1;
  int click_at = 48000;  ///< sample at 48000 Hz
  bool noise = false;    ///< pictures and sound full of noise, for files that weigh something
  std::string timecode;
  std::optional<WallTime> creation_time;
};

/// Throws std::runtime_error when the writer fails. The sound is as long as the pictures.
void make_clip(const std::filesystem::path& path, const ClipPlan& plan);

/// Runs a program; returns what it wrote to stdout. Throws std::runtime_error with its stderr when it fails.
std::string run(const std::vector<std::string>& words);
/// ffmpeg, quiet, overwriting.
void ffmpeg(std::vector<std::string> words);

/// Seconds on the container's own time line of the first frame the ffprobe program shows of a stream ("v:0", "a:0"),
/// and of the end of the last one that it can tell the time of.
struct OutsideTimes {
  double first = 0;
  double end = 0;
  int frames = 0;
};
OutsideTimes ffprobe_times(const std::filesystem::path& path, const std::string& stream);

struct WavShape {
  std::uint16_t format = 1;  ///< 1 whole numbers, 3 floats
  std::uint16_t channels = 1;
  std::uint32_t rate_hz = 48000;
  std::uint16_t bits = 16;
};
void write_wav(const std::filesystem::path& path, const WavShape& shape, const std::vector<std::uint8_t>& samples);

std::vector<std::uint8_t> read_bytes(const std::filesystem::path& path);
void write_bytes(const std::filesystem::path& path, const std::vector<std::uint8_t>& bytes);

}  // namespace jigtime::test
