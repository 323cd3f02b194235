// A session's footage as plain values: what is needed to show it, and nothing of the journal.
// Must never know: the journal, people, tasks, windows.
// Begin reading at: Camera; then camera_reader.h (pictures) and sound_track.h (sound).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/file_identity.h"
#include "base/piece.h"
#include "base/time.h"

namespace jigtime::film {

/// One file of a clip.
struct Part {
  std::filesystem::path source;
  std::optional<FileIdentity> identity{};  ///< when set, another file in its place is refused
  std::filesystem::path copy{};  ///< a small one with the same times, read instead of the source; may be empty
  ClipTime clip_from{};          ///< clip time of this file's own first picture
  Length length{0};
};

struct Clip {
  std::string name;
  std::vector<Part> parts;    ///< in order, at least one unless `gone` is set
  std::vector<Piece> pieces;  ///< where it lies on the session clock; none: it is not shown
  Length picture_length{0};   ///< nominal; 0 when unknown
  bool has_pictures = true;
  bool has_sound = true;
  std::string gone{};  ///< set: its footage was given up, and these words say when and why
};

struct Camera {
  std::string name;
  std::vector<Clip> clips;
};

/// From the first picture or sound of any camera to the last; nothing when no clip is placed.
std::optional<SessionRange> extent(const std::vector<Camera>& cameras);

/// The piece of a camera that holds an instant, and the clip it belongs to.
struct Place {
  const Clip* clip = nullptr;
  const Piece* piece = nullptr;
};
/// The later clip where two of them overlap; nothing where the camera was off.
std::optional<Place> place_at(const Camera& camera, SessionTime t);

/// The stretch around `t` in which the camera was off; a side is missing where it never ran before, or never again.
/// Precondition: place_at(camera, t) is nothing.
struct Off {
  std::optional<SessionTime> since;
  std::optional<SessionTime> until;
};
Off off_around(const Camera& camera, SessionTime t);

/// The file that holds clip time `t`, and the time inside it. Precondition: the clip has parts.
struct InPart {
  const Part* part = nullptr;
  ClipTime at{};
};
InPart part_at(const Clip& clip, ClipTime t);

}  // namespace jigtime::film
