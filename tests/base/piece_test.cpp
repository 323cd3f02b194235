#include "base/piece.h"

#include <doctest/doctest.h>

#include <random>
#include <vector>

using namespace jigtime;
using namespace std::chrono_literals;

TEST_CASE("a piece maps there and back within one nanosecond, for rates up to 1000 ppm and ten hours") {
  std::mt19937_64 random{20260314};
  std::uniform_int_distribution<std::int64_t> rate{-1'000'000, 1'000'000};
  std::uniform_int_distribution<std::int64_t> time{0, Length{10h}.count()};
  for (int i = 0; i < 100'000; ++i) {
    const Piece piece{ClipTime{Length{time(random)}}, ClipTime{Length{10h}}, SessionTime{Length{time(random)}},
                      rate(random), 0ns};
    const ClipTime t{Length{time(random)}};
    const Length lost = piece.to_clip(piece.to_session(t)) - t;
    REQUIRE(lost >= -1ns);
    REQUIRE(lost <= 1ns);
  }
}

TEST_CASE("the usual standard error is the one that most of the time has") {
  const auto piece = [](Length from, Length to, Length sigma) {
    return Piece{ClipTime{from}, ClipTime{to}, SessionTime{from}, 0, sigma};
  };
  CHECK(usual_sigma({}) == 0ns);
  CHECK(usual_sigma(std::vector{piece(0s, 10s, 3ms)}) == 3ms);
  CHECK(usual_sigma(std::vector{piece(0s, 40s, 2ms), piece(40s, 70s, 4s), piece(70s, 100s, 1ms)}) == 2ms);
  CHECK(usual_sigma(std::vector{piece(0s, 10s, 2ms), piece(10s, 90s, 4s), piece(90s, 100s, 2ms)}) == 4s);
}

TEST_CASE("a rate of +100 ppm makes an hour 360 ms longer on the session clock") {
  const Piece piece{ClipTime{}, ClipTime{1h}, SessionTime{5s}, 100'000, 0ns};
  CHECK(piece.to_session(ClipTime{1h}) == SessionTime{5s + 1h + 360ms});
  CHECK(piece.session_end() == SessionTime{5s + 1h + 360ms});
}

TEST_CASE("a moment in a dropout belongs to no piece") {
  const std::vector<Piece> pieces{{ClipTime{}, ClipTime{10s}, SessionTime{1s}, 0, 0ns},
                                  {ClipTime{10s}, ClipTime{20s}, SessionTime{12s}, 0, 0ns}};
  CHECK(piece_at(pieces, SessionTime{500ms}) == nullptr);
  CHECK(piece_at(pieces, SessionTime{1s}) == &pieces[0]);
  CHECK(piece_at(pieces, SessionTime{11s}) == nullptr);
  CHECK(piece_at(pieces, SessionTime{12s}) == &pieces[1]);
  CHECK(piece_at(pieces, SessionTime{22s}) == nullptr);
}

TEST_CASE("a clip time on the border of two pieces belongs to the later one") {
  const std::vector<Piece> pieces{{ClipTime{}, ClipTime{10s}, SessionTime{1s}, 0, 0ns},
                                  {ClipTime{10s}, ClipTime{20s}, SessionTime{12s}, 0, 0ns}};
  CHECK(piece_at(pieces, ClipTime{10s}) == &pieces[1]);
  CHECK(piece_at(pieces, ClipTime{9s}) == &pieces[0]);
  CHECK(piece_at(pieces, ClipTime{21s}) == nullptr);
}
