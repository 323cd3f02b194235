// Footage that tells its own time: every picture carries its number in sixteen fields that survive scaling and
// encoding, and the sound carries a click at the first sample of every second.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/picture.h"
#include "base/time.h"
#include "film/cameras.h"

namespace jigtime::test {

struct MarkedPlan {
  std::string container = "mov";
  std::string picture_codec = "libx264";
  std::string sound_codec = "pcm_s16le";  ///< empty: no sound
  int width = 320;
  int height = 180;
  int rate_num = 25;
  int rate_den = 1;
  int pictures = 100;
  int first_number = 0;  ///< of the first picture: later parts of one clip go on counting
  int camera = 0;        ///< 0 to 3
  int key_every = 25;
};

/// Throws std::runtime_error when the writer fails. The clicks lie on whole seconds of the file's own time.
void make_marked_clip(const std::filesystem::path& path, const MarkedPlan& plan);

Picture marked_picture(int number, int camera, int width, int height);

struct Marking {
  int number = 0;
  int camera = 0;
  friend bool operator==(const Marking&, const Marking&) = default;
};
/// What the fields inside the rectangle say; nothing when they say nothing that can be.
std::optional<Marking> read_marking(const Picture& picture, int left, int top, int width, int height);
std::optional<Marking> read_marking(const Picture& picture);

/// A clip of one file placed by one piece.
film::Clip placed_clip(const std::filesystem::path& path, const MarkedPlan& plan, SessionTime start,
                       std::int64_t rate_ppb = 0);

}  // namespace jigtime::test
