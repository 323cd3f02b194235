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

void doubt_within(double from, double to, double sigma, std::vector<Piece>& pieces) {
  const ClipTime begin = clip_time(from), end = clip_time(to);
  std::vector<Piece> parts;
  for (const Piece& piece : pieces) {
    const ClipTime first = std::max(piece.clip_from, begin), last = std::min(piece.clip_to, end);
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

void doubt_around(const Split& loss, std::vector<Piece>& pieces) {
  doubt_within(loss.at - loss.loose, loss.at + loss.loose, std::abs(loss.seconds) / 2, pieces);
}

}  // namespace jigtime::sync
