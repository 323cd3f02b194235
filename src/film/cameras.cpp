#include "film/cameras.h"

#include <algorithm>

namespace jigtime::film {

std::optional<SessionRange> extent(const std::vector<Camera>& cameras) {
  std::optional<SessionTime> begin;
  std::optional<SessionTime> end;
  for (const Camera& camera : cameras) {
    for (const Clip& clip : camera.clips) {
      for (const Piece& piece : clip.pieces) {
        begin = std::min(begin.value_or(piece.session_start), piece.session_start);
        end = std::max(end.value_or(piece.session_end()), piece.session_end());
      }
    }
  }
  if (!begin) return std::nullopt;
  return SessionRange::make(*begin, *end);
}

std::optional<Place> place_at(const Camera& camera, SessionTime t) {
  std::optional<Place> found;
  for (const Clip& clip : camera.clips) {
    const Piece* piece = piece_at(clip.pieces, t);
    if (piece == nullptr) continue;
    const bool later = !found || clip.pieces.front().session_start >= found->clip->pieces.front().session_start;
    if (later) found = Place{&clip, piece};
  }
  return found;
}

Off off_around(const Camera& camera, SessionTime t) {
  Off off;
  for (const Clip& clip : camera.clips) {
    for (const Piece& piece : clip.pieces) {
      const SessionTime end = piece.session_end();
      if (end <= t) off.since = std::max(off.since.value_or(end), end);
      if (piece.session_start > t) off.until = std::min(off.until.value_or(piece.session_start), piece.session_start);
    }
  }
  return off;
}

InPart part_at(const Clip& clip, ClipTime t) {
  const Part* part = &clip.parts.front();
  for (const Part& later : clip.parts) {
    if (later.clip_from <= t) part = &later;
  }
  return {part, ClipTime{t - part->clip_from}};
}

}  // namespace jigtime::film
