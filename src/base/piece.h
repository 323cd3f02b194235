// One piece of a placement: where a stretch of a clip lies on the session clock.
// Must never know: how it was found, which clip it belongs to.
// Begin reading at: Piece::to_session.
#pragma once

#include <optional>
#include <span>

#include "base/time.h"

namespace jigtime {

/// Session time of clip time t is session_start + (1 + rate) * (t - clip_from), for t in [clip_from, clip_to].
struct Piece {
  ClipTime clip_from;
  ClipTime clip_to;
  SessionTime session_start;
  std::int64_t rate_ppb = 0;  ///< how much faster the session clock runs than the clip's, parts per billion
  Length sigma{0};            ///< standard error of session_start and of every mapped time

  /// Maps beyond the piece's ends too: a neighbouring instant is then only extrapolated.
  SessionTime to_session(ClipTime t) const;
  /// The inverse, within 1 ns of where to_session came from (for |rate| below 1000 ppm).
  ClipTime to_clip(SessionTime t) const;
  SessionTime session_end() const { return to_session(clip_to); }
  friend bool operator==(const Piece&, const Piece&) = default;
};

inline constexpr std::int64_t one_in_ppb = 1'000'000'000;

/// The piece whose session range holds t; nothing in a dropout or outside. Pieces are in clip order.
const Piece* piece_at(std::span<const Piece> pieces, SessionTime t);
/// The piece that holds clip time t; at a border the later one; nothing outside.
const Piece* piece_at(std::span<const Piece> pieces, ClipTime t);

/// The standard error that holds for most of the time of the pieces: a stretch in doubt, around a loss of which nobody
/// heard where it lies, does not stand for the whole. Zero for none.
Length usual_sigma(std::span<const Piece> pieces);

}  // namespace jigtime
