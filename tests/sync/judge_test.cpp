#include "sync/judge.h"

#include <doctest/doctest.h>

using namespace jigtime::sync;

namespace {

Segment segment(double from, double to, double lag) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  segment.fit.line = {from, lag, 0};
  for (double t = from; t <= to; t += 10) segment.observations.push_back({t, lag, 1});
  return segment;
}

}  // namespace

TEST_CASE("two places for the same stretch cannot both be, two stretches in order can") {
  CHECK(contradict(segment(0, 100, 5), segment(20, 80, 300)));
  CHECK(!contradict(segment(0, 100, 5), segment(100, 200, 5.4)));
  CHECK(!contradict(segment(0, 100, 5), segment(97, 200, 5.4)));
}

TEST_CASE("stretches that turn the order around cannot both be") {
  CHECK(contradict(segment(0, 100, 500), segment(110, 200, 5)));
}

TEST_CASE("the same stretch at nearly the same lag is the same place") {
  CHECK(same_place(segment(0, 100, 5), segment(50, 150, 5.01)));
  CHECK(!same_place(segment(0, 100, 5), segment(50, 150, 5.05)));
}

TEST_CASE("lags that lie together are a line, lags all over a beat are not") {
  CHECK(on_one_line(segment(0, 100, 5)));
  Segment beat = segment(0, 100, 5);
  for (std::size_t i = 0; i < beat.observations.size(); ++i) {
    beat.observations[i].lag += -0.019 + 0.0038 * static_cast<double>(i);
  }
  CHECK(!on_one_line(beat));
}

TEST_CASE("a song that fits for two fifths of the time is not enough; a loss in the middle is no lack") {
  Segment song = segment(0, 40, 5);
  song.within = 0.5;
  song.explained = 0.36;
  CHECK(!explains_enough({song}));
  Segment before = song, after = song;
  CHECK(explains_enough({before, after}));
  CHECK(!explains_enough({}));
}

TEST_CASE("where noise hides all that happens the proof must do, and where work is heard it must be explained") {
  Segment hidden = segment(0, 40, 5);
  hidden.within = hidden.explained = 0;
  hidden.audible = 3;
  hidden.proof = 20;
  hidden.agreed = 9;
  CHECK(explains_enough({hidden}));
  hidden.agreed = 3;
  CHECK(!explains_enough({hidden}));
  hidden.agreed = 9;
  hidden.proof = 8;
  CHECK(!explains_enough({hidden}));
  hidden.proof = 20;
  hidden.audible = 900;
  CHECK(!explains_enough({hidden}));
}

TEST_CASE(
    "a song that fits for a while, while both days go on as loudly, is no match; the fewer windows, the more must "
    "fit") {
  const auto heard = [](int agreeing, int silent) {
    Segment part = segment(0, 3.0 * agreeing, 5);
    for (int i = 0; i < agreeing + silent; ++i) part.glimpses.push_back({3.0 * i, 20, i < agreeing});
    part.to = 3.0 * (agreeing - 1);
    part.proof = 20;
    return std::vector<Segment>{part};
  };
  CHECK(!goes_on_unmatched(heard(8, 0)));
  CHECK(!goes_on_unmatched(heard(9, 2)));
  CHECK(goes_on_unmatched(heard(7, 3)));
  CHECK(!goes_on_unmatched(heard(28, 10)));
  CHECK(goes_on_unmatched(heard(20, 20)));
  // What is quiet in either clip proves nothing, and a piece behind a loss explains its own stretch.
  std::vector<Segment> quiet = heard(7, 3);
  for (Glimpse& one : quiet[0].glimpses) one.happens = one.agrees ? 20 : 2;
  CHECK(!goes_on_unmatched(quiet));
  std::vector<Segment> two = heard(7, 3);
  Segment behind = segment(20, 30, 5.4);
  behind.proof = 8;
  two.push_back(behind);
  CHECK(!goes_on_unmatched(two));
}

TEST_CASE("pieces that follow each other on one line become one, pieces with a loss between stay two") {
  std::vector<Segment> one = {segment(0, 100, 5), segment(110, 200, 5.01)};
  one[0].windows = one[1].windows = 10;
  join_pieces(one);
  REQUIRE(one.size() == 1);
  CHECK(one[0].to == 200);
  CHECK(one[0].windows == 20);
  std::vector<Segment> two = {segment(0, 100, 5), segment(110, 200, 5.04)};
  join_pieces(two);
  CHECK(two.size() == 2);
}
