#include "sync/pieces.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

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

/// A piece heard in windows every ten seconds of the whole, that bear it out from `from` to `to` and, by luck, at
/// `strays`.
Segment heard(double from, double to, double lag, double whole, std::vector<double> strays) {
  Segment piece = segment(from, to, lag);
  for (const double t : strays) {
    piece.from = std::min(piece.from, t);
    piece.to = std::max(piece.to, t);
    piece.observations.insert(t < from ? piece.observations.begin() : piece.observations.end(), {t, lag, 1});
  }
  for (double t = 0; t <= whole; t += 10) {
    const bool stray = std::any_of(strays.begin(), strays.end(), [t](double one) { return one == t; });
    const bool agrees = (t >= from && t <= to) || stray;
    piece.glimpses.push_back({t, 20, agrees, agrees});
  }
  piece.proof = to - from;
  piece.within = (piece.to - piece.from) / whole;
  piece.explained = (to - from) / whole;
  return piece;
}

}  // namespace

TEST_CASE("two places for the same stretch cannot both be, two stretches in order can") {
  CHECK(contradict(segment(0, 100, 5), segment(20, 80, 300)));
  CHECK(!contradict(segment(0, 100, 5), segment(100, 200, 5.4)));
  CHECK(!contradict(segment(0, 100, 5), segment(97, 200, 5.4)));
  // Where long stretches meet may be known to ten seconds, where short ones do not.
  CHECK(!contradict(segment(0, 100, 5), segment(90, 200, 5.4)));
  CHECK(contradict(segment(0, 30, 5), segment(20, 200, 5.4)));
}

TEST_CASE("stretches that turn the order around cannot both be") {
  CHECK(contradict(segment(0, 100, 500), segment(110, 200, 5)));
}

TEST_CASE("the same stretch at nearly the same lag is the same place") {
  CHECK(same_place(segment(0, 100, 5), segment(50, 150, 5.01)));
  CHECK(!same_place(segment(0, 100, 5), segment(50, 150, 5.05)));
}

TEST_CASE("of two pieces that luck carried over the loss between them each keeps its own side") {
  for (const double lost : {3.5, -3.5, 40.0}) {
    CAPTURE(lost);
    Segment before = heard(0, 100, 5, 400, {150, 160});
    Segment after = heard(110, 400, 5 + lost, 400, {80});
    REQUIRE(contradict(before, after));
    REQUIRE(part(after, before));
    CHECK(before.to == 100);
    CHECK(after.from == 110);
    CHECK(before.observations.back().at == 100);
    CHECK(after.observations.front().at == 110);
    CHECK(before.within == doctest::Approx(11.0 / 41 * (0.4 / (17.0 / 41))));
    CHECK(!contradict(before, after));
  }
}

TEST_CASE("a lucky window far beyond the others, at the border of two pieces, leaves the stretch between open") {
  Segment before = heard(0, 100, 5, 400, {190, 300});
  Segment after = heard(210, 400, 65, 400, {80});
  REQUIRE(part(before, after));
  CHECK(before.to == 100);
  CHECK(before.observations.back().at == 100);
  CHECK(after.from == 210);
}

TEST_CASE("two places for one stretch are not parted, and of two as well proven neither is taken") {
  Segment here = heard(0, 200, 5, 200, {}), there = heard(60, 200, 45, 200, {});
  CHECK(!part(here, there));
  CHECK(here.to == 200);
  CHECK(there.from == 60);
  here.proof = 30;
  there.proof = 28;
  CHECK(settle({here, there}).rivals.size() == 2);
  there.proof = 8;
  const Settled settled = settle({there, here});
  CHECK(settled.rivals.empty());
  REQUIRE(settled.pieces.size() == 1);
  CHECK(settled.pieces[0].fit.line.lag == 5);
}

TEST_CASE("a bar of music that fits the clip's end at another place, too, is no loss before it") {
  // All of the first fits; what it would have to give up for the second is all that the second has.
  Segment all = heard(0, 180, 5, 180, {}), bar = segment(220, 233, -28);
  all.to = 200;
  for (double t = 182; t <= 200; t += 2) {
    all.observations.push_back({t, 5, 1});
    all.glimpses.push_back({t, 20, true, true});
  }
  bar.to = 233;
  bar.observations.clear();
  for (double t = 220; t <= 233; t += 2) {
    bar.observations.push_back({t, -28, 1});
    bar.glimpses.push_back({t, 20, true, true});
  }
  all.proof = 70;
  bar.proof = 30;
  REQUIRE(contradict(all, bar));
  CHECK(!part(all, bar));
  CHECK(settle({all, bar}).pieces.size() == 1);
}

TEST_CASE("a few windows that need both clips to lose time give way to many near the other pieces' line") {
  // As it was measured: a song comes again after 32 s, and ten seconds of it are clearer than all of the stretch
  // before.
  Segment before = segment(129, 221, -5.03), whole = segment(261, 370, -4.70), bar = segment(372, 382, -36.6),
          after = segment(386, 500, -4.35);
  before.proof = 19;
  bar.proof = 13.6;
  bar.agreed = 7;
  whole.proof = 9.4;
  whole.agreed = 28;
  after.proof = 8.7;
  REQUIRE(contradict(whole, bar));
  const Settled settled = settle({before, whole, bar, after});
  CHECK(settled.rivals.empty());
  REQUIRE(settled.pieces.size() == 3);
  CHECK(settled.pieces[1].fit.line.lag == -4.70);
  const auto kept_bar = [&](const Segment& long_one, const Segment& short_one) {
    const std::vector<Segment> pieces = settle({before, long_one, short_one, after}).pieces;
    return std::ranges::any_of(pieces, [](const Segment& one) { return one.fit.line.lag < -30; });
  };
  CHECK_FALSE(kept_bar(whole, bar));
  Segment fewer = whole;
  fewer.agreed = 7;
  CHECK(kept_bar(fewer, bar));  // hardly more speaks for it
  Segment far = whole;
  far.fit.line.lag = -9;
  CHECK(kept_bar(far, bar));  // it needs losses, too
  Segment clearest = bar;
  clearest.proof = 25;
  CHECK(kept_bar(whole, clearest));  // what is proven best of all stays
  const auto alone = [&](std::vector<Segment> some) {
    return settle(std::move(some)).pieces.back().fit.line.lag < -30;
  };
  CHECK(alone({before, whole, bar}));  // a last piece beyond one loss may be true
}

TEST_CASE("pieces on both sides of two losses are all kept, in order") {
  Segment first = heard(0, 90, 5, 400, {}), second = heard(100, 240, 8, 400, {300}),
          third = heard(250, 400, 12, 400, {});
  const Settled settled = settle({first, second, third});
  CHECK(settled.rivals.empty());
  REQUIRE(settled.pieces.size() == 3);
  CHECK(settled.pieces[1].to == 240);
  CHECK(settled.pieces[2].from == 250);
}

TEST_CASE("what either side of a jump heard beyond it goes, unless that is all") {
  Segment before = segment(0, 130, 5), after = segment(90, 200, 5.4);
  before.to = after.from = 104;
  keep_apart(before, after);
  CHECK(before.observations.back().at == 100);
  CHECK(after.observations.front().at == 110);
  after.from = 300;
  keep_apart(before, after);
  CHECK(after.observations.size() == 10);
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

TEST_CASE("a jump of a blow or two is not believed where riveting leaves either side in doubt") {
  const auto jump_of = [](double jump, double doubt, double proof, double spread = 0.01) {
    std::vector<Segment> two{segment(0, 100, 5), segment(105, 200, 5 + jump)};
    two[0].proof = 20;
    two[0].fit.spread = two[1].fit.spread = spread;
    two[1].proof = proof;
    two[1].doubt = doubt;
    leave_out_blows(two);
    return two;
  };
  const auto left = jump_of(0.08, 0.014, 13);
  REQUIRE(left.size() == 1);
  CHECK(left[0].to == doctest::Approx(100));
  CHECK(left[0].doubt == doctest::Approx(0.04));
  CHECK(jump_of(0.08, 0.014, 30)[0].from == doctest::Approx(105));
  CHECK(jump_of(0.08, 0, 13).size() == 2);
  CHECK(jump_of(0.08, 0.014, 13, 0.001).size() == 2);  // both heard sharply: the loss is one
  CHECK(jump_of(0.08, 0.014, 9, 0.001).size() == 1);
  CHECK(jump_of(0.2, 0.014, 13).size() == 2);
}

TEST_CASE("a jump of a blow that something else bears out stays, and no other") {
  std::vector<Segment> all{segment(0, 100, 5), segment(105, 200, 5.08), segment(210, 300, 5.14)};
  for (Segment& one : all) one.doubt = 0.014;
  all[1].proof = 20;
  leave_out_blows(all, [](const Segment& before, const Segment&) { return before.to < 150; });
  REQUIRE(all.size() == 2);
  CHECK(all[0].to == 100);
  CHECK(all[1].from == 105);
}
