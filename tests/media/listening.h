// What a reader gives of a whole file, boiled down for checks.
#pragma once

#include <filesystem>
#include <vector>

#include "media/picture_reader.h"
#include "media/sound_reader.h"

namespace jigtime::test {

struct Heard {
  std::vector<float> samples;  ///< all blocks, one behind the other
  ClipTime begin;
  ClipTime end;
  ClipTime loudest;  ///< time of the sample farthest from zero
  float level = 0;   ///< of that sample
  struct Gap {
    ClipTime from;
    ClipTime to;
  };
  std::vector<Gap> gaps;  ///< where a block did not begin within a nanosecond of the end of the one before
};

/// Everything from where the reader stands. Throws std::runtime_error on an error.
Heard listen(media::SoundReader& reader, int rate_hz);
Heard listen(const std::filesystem::path& path, int rate_hz = 48000);

struct Seen {
  std::vector<ClipTime> times;
  std::vector<Picture> pictures;
  ClipTime flash;  ///< of the first picture that is bright in the middle; before zero when none is
};

Seen look(const std::filesystem::path& path, int most_width = 0);
/// Mean of red, green and blue in the middle of the picture.
int brightness(const Picture& picture);

ClipTime at_seconds(double seconds);

}  // namespace jigtime::test
