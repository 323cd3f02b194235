// A small copy of a file's pictures and sound that is quick to jump about in, with the same clip times.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>

#include "base/result.h"
#include "base/time.h"

namespace jigtime::media {

struct SmallCopySettings {
  int most_width = 640;  ///< of the pictures as shown; narrower ones keep their size, to the next even number down
  int key_every = 12;    ///< pictures
  int threads = 1;       ///< for decoding; encoding takes one more
};

/// Writes an MP4 file (H.264 4:2:0 without B-frames; AAC, one channel) to `to` itself: the caller chooses a temporary
/// name and renames. Every picture of the source is in it, at its own clip time to within 6 us, turned as it was; sound
/// lies where it lay, silence where the source has a hole. A source that breaks off gives a copy up to there.
/// `reached` is called after every picture. Errors: as PictureReader's for the source, as Writer's for the copy;
/// cancelled. Returns what was left out: whole sentences, empty where nothing was.
Result<std::string> write_small_copy(const std::filesystem::path& source, const std::filesystem::path& to,
                                     const SmallCopySettings& settings, const std::stop_token& stop,
                                     const std::function<void(ClipTime)>& reached = {});

}  // namespace jigtime::media
