#include "base/piece.h"

#include <algorithm>
#include <vector>

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

Length usual_sigma(std::span<const Piece> pieces) {
  std::vector<Piece> by_sigma{pieces.begin(), pieces.end()};
  std::sort(by_sigma.begin(), by_sigma.end(), [](const Piece& a, const Piece& b) { return a.sigma < b.sigma; });
  Length all{0}, so_far{0};
  for (const Piece& piece : by_sigma) all += piece.clip_to - piece.clip_from;
  for (const Piece& piece : by_sigma) {
    so_far += piece.clip_to - piece.clip_from;
    if (2 * so_far >= all) return piece.sigma;
  }
  return Length{0};
}

}  // namespace jigtime
