// The clips of a session as the steps that listen see them, made ready when first asked for.
// Must never know: placements.
#pragma once

#include <deque>
#include <mutex>
#include <vector>

#include "sync/pair.h"

namespace jigtime::sync {

/// Keeps references to the inputs. May be used from several threads at once.
class Ears {
 public:
  explicit Ears(const std::vector<ClipInput>& clips);

  /// Whether there is any sound in it at all.
  bool heard(int clip) const { return input(clip).features != nullptr && input(clip).sound != nullptr; }
  /// Nothing but digital silence, or nothing.
  bool silent(int clip) const { return ears_[static_cast<std::size_t>(clip)].silent; }
  /// Seconds of sound in the clip.
  double seconds(int clip) const;
  /// Precondition: heard.
  const Hearable& hearable(int clip) const;
  const Hearing& hearing(int clip) const { return ears_[static_cast<std::size_t>(clip)].hearing; }
  /// What reading failed with, if no clip could be read.
  std::optional<Error> failure() const;

 private:
  struct Ear {
    explicit Ear(const Sound* sound) : hearing{sound} {}
    bool silent = true;
    Hearing hearing;
    std::once_flag opened{};
    Frames frames{};
    Hearable hearable{};
  };
  const ClipInput& input(int clip) const { return clips_[static_cast<std::size_t>(clip)]; }

  const std::vector<ClipInput>& clips_;
  mutable std::deque<Ear> ears_;
};

}  // namespace jigtime::sync
