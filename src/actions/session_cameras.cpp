#include "actions/session_cameras.h"

#include <algorithm>

#include "actions/review_copies.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

film::Part part_of(const journal::Part& part) { return {part.path, part.identity, {}, part.clip_from, part.length}; }

/// What was kept instead of footage that was given up stands in where it can only mean the whole clip.
void let_go(film::Clip& shown, const journal::Clip& clip) {
  const journal::LetGo& gone = *clip.let_go;
  if (!gone.kept_copy.empty() && clip.parts.size() == 1) {
    shown.parts = {{gone.kept_copy, gone.kept_is, {}, ClipTime{}, clip.length}};
    return;
  }
  shown.gone = clip.name() + " was let go on " + jigtime::to_text(gone.on) + " (" + gone.reason + ").";
}

film::Clip clip_of(const journal::Clip& clip, const journal::SessionRecord& record) {
  film::Clip shown;
  shown.name = to_utf8(clip.name());
  for (const journal::Part& part : clip.parts) shown.parts.push_back(part_of(part));
  if (const journal::Placement* placement = record.placement(clip.id)) shown.pieces = placement->pieces;
  if (clip.pictures) shown.picture_length = clip.pictures->picture_length;
  shown.has_pictures = clip.pictures.has_value();
  shown.has_sound = clip.sound.has_value();
  if (clip.let_go) let_go(shown, clip);
  return shown;
}

}  // namespace

SessionCameras source_cameras_of(const journal::SessionRecord& record, const journal::Register& known) {
  SessionCameras all;
  for (const journal::Camera& camera : known.cameras) {
    film::Camera shown{to_utf8(camera.name), {}};
    for (const journal::Clip& clip : record.clips) {
      if (clip.camera == camera.id) shown.clips.push_back(clip_of(clip, record));
    }
    if (shown.clips.empty()) continue;
    all.ids.push_back(camera.id);
    all.cameras.push_back(std::move(shown));
  }
  return all;
}

SessionCameras cameras_of(const journal::SessionRecord& record, const journal::Register& known,
                          const std::filesystem::path& copies) {
  SessionCameras all = source_cameras_of(record, known);
  for (film::Camera& camera : all.cameras) {
    for (film::Clip& clip : camera.clips) {
      for (film::Part& part : clip.parts) {
        if (!part.identity) continue;
        if (auto copy = find_review_copy(*part.identity, copies)) part.copy = std::move(*copy);
      }
    }
  }
  return all;
}

}  // namespace jigtime::actions
