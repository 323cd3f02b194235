// A clip's sound for the line-up: decoded once, kept on disk, read again in windows.
// Begin reading at: listen.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "journal/values.h"
#include "sync/line_up.h"

namespace jigtime::actions {

/// What was heard of one clip.
struct Heard {
  std::unique_ptr<sync::Sound> sound;
  sync::Features features;
  std::vector<ClipRange> missing;  ///< stretches that the files' own stamps skip
  bool from_cache = false;
};

/// Names a clip's sound and features in the cache: by the identities and places of its parts and the versions of both
/// algorithms.
std::string sound_key(const journal::Clip& clip);

/// Decodes the sound of all parts of a clip in order, once, onto the line-up's grid (sync::sample_rate_hz), or takes it
/// from the cache, under its sound_key. The samples lie in a
/// file of the cache folder (16 bits each); where that cannot be written, in a file without a name among the temporary
/// files. A part that cannot be decoded leaves silence and a sentence in `notes`. Errors: cancelled; not_found when no
/// part has sound; unreadable when none could be decoded; no_space when there is no room for the samples anywhere.
Result<Heard> listen(const journal::Clip& clip, const std::stop_token& stop, std::vector<std::string>& notes);

/// What the cache holds of a clip's sound; nothing is decoded. Nothing where it is not kept, or garbled.
std::optional<Heard> kept_sound(const journal::Clip& clip);

}  // namespace jigtime::actions
