#include "sync/loss_doubt.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace jigtime;
using namespace jigtime::sync;

namespace {

ClipTime clip_at(double seconds) { return ClipTime{from_seconds(seconds)}; }

Piece piece(double from, double to, double start) {
  return {clip_at(from), clip_at(to), SessionTime{from_seconds(start)}, 40'000, from_seconds(0.003)};
}

/// Eight seconds, lost somewhere within `loose` seconds of the moment.
Split loss(double at, double loose) { return {at, 8, 1, at - loose, at + loose, loose}; }

}  // namespace

TEST_CASE("around a loss the pieces are in doubt by half of it, and nothing moves") {
  const std::vector<Piece> before{piece(0, 50, 100), piece(50, 90, 158)};
  std::vector<Piece> pieces = before;
  doubt_around(loss(50, 10), pieces);
  REQUIRE(pieces.size() == 4);
  const double begins[] = {0, 40, 50, 60}, sigmas[] = {0.003, std::hypot(0.003, 4), std::hypot(0.003, 4), 0.003};
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    CHECK(pieces[i].clip_from == clip_at(begins[i]));
    CHECK(to_seconds(pieces[i].sigma) == doctest::Approx(sigmas[i]));
    if (i > 0) CHECK(pieces[i].clip_from == pieces[i - 1].clip_to);
  }
  for (const double t : {5.0, 45.0, 55.0, 85.0}) {
    const Length moved =
        piece_at(pieces, clip_at(t))->to_session(clip_at(t)) - piece_at(before, clip_at(t))->to_session(clip_at(t));
    CHECK(std::abs(moved.count()) <= 1);
  }
}

TEST_CASE("a doubt beyond a clip's end makes no piece of nothing") {
  std::vector<Piece> pieces{piece(0, 6, 100), piece(6, 30, 110)};
  doubt_around(loss(6, 10), pieces);
  REQUIRE(pieces.size() == 3);
  CHECK(pieces.front().clip_from == clip_at(0));
  CHECK(to_seconds(pieces.front().sigma) > 3.9);
  CHECK(pieces.back().clip_from == clip_at(16));
  CHECK(pieces.back().sigma == from_seconds(0.003));
}

TEST_CASE("a loss that lies in no piece, or exactly where it was heard, leaves all as it was") {
  const std::vector<Piece> before{piece(0, 20, 100)};
  std::vector<Piece> pieces = before;
  doubt_around(loss(40, 10), pieces);
  CHECK(pieces == before);
  doubt_around(loss(10, 0), pieces);
  CHECK(pieces == before);
  pieces.clear();
  doubt_around(loss(10, 5), pieces);
  CHECK(pieces.empty());
}
