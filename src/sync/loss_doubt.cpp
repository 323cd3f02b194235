#include "sync/loss_doubt.h"

#include <algorithm>
#include <cmath>

namespace jigtime::sync {

namespace {

ClipTime clip_time(double seconds) { return ClipTime{from_seconds(seconds)}; }

/// What of a piece lies between two clip times, if anything does.
void add_part(const Piece& piece, ClipTime begin, ClipTime end, Length sigma, std::vector<Piece>& parts) {
  if (begin >= end) return;
  Piece part = piece;
  part.session_start = piece.to_session(begin);
  part.clip_from = begin;
  part.clip_to = end;
  part.sigma = sigma;
  parts.push_back(part);
}

}  // namespace

void doubt_around(const Split& loss, std::vector<Piece>& pieces) {
  const ClipTime from = clip_time(loss.at - loss.loose), to = clip_time(loss.at + loss.loose);
  const double sigma = std::abs(loss.seconds) / 2;
  std::vector<Piece> parts;
  for (const Piece& piece : pieces) {
    const ClipTime first = std::max(piece.clip_from, from), last = std::min(piece.clip_to, to);
    if (first >= last) {
      parts.push_back(piece);
      continue;
    }
    add_part(piece, piece.clip_from, first, piece.sigma, parts);
    add_part(piece, first, last, from_seconds(std::hypot(to_seconds(piece.sigma), sigma)), parts);
    add_part(piece, last, piece.clip_to, piece.sigma, parts);
  }
  pieces = std::move(parts);
}

}  // namespace jigtime::sync
