#include "base/piece.h"

namespace jigtime {

SessionTime Piece::to_session(ClipTime t) const {
  const Length in = t - clip_from;
  return session_start + in + Length{scaled(in.count(), rate_ppb, one_in_ppb)};
}

ClipTime Piece::to_clip(SessionTime t) const {
  const Length in = t - session_start;
  return clip_from + Length{scaled(in.count(), one_in_ppb, one_in_ppb + rate_ppb)};
}

const Piece* piece_at(std::span<const Piece> pieces, SessionTime t) {
  for (const Piece& piece : pieces) {
    if (t >= piece.session_start && t < piece.session_end()) return &piece;
  }
  return nullptr;
}

const Piece* piece_at(std::span<const Piece> pieces, ClipTime t) {
  const Piece* found = nullptr;
  for (const Piece& piece : pieces) {
    if (t >= piece.clip_from && t <= piece.clip_to) found = &piece;
  }
  return found;
}

}  // namespace jigtime
