// Where the pictures and the sound of a file end.
#pragma once

#include <optional>

#include "base/result.h"
#include "media/libav/source.h"

namespace jigtime::media {

struct Ends {
  std::optional<ClipTime> pictures;  ///< after the last picture
  std::optional<ClipTime> sound;     ///< after the last sample
};

/// Reads the packets at the tail, further and further back until each stream has shown itself; headers only say where
/// to begin. Leaves `source` at the end of the file. Errors: cancelled.
Result<Ends> find_ends(Source& source);

/// Pictures per second; 0/1 when unknown.
AVRational picture_rate(const Source& source);

}  // namespace jigtime::media
