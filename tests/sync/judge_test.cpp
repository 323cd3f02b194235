#include "sync/judge.h"

#include <doctest/doctest.h>

#include <array>

#include "sync/lag_rows.h"

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

/// Twenty windows; in each a blow at the line's lag, one after and one before it, and in `single` of them one sound
/// alone.
LagMap hammered(int single) {
  jigtime::test::LagRows rows{7};
  LagMap map{{0, 5, 0}, 0.99};
  for (int i = 0; i < 20; ++i) {
    std::vector<float> row = rows.row(0, 14);
    if (i >= single) {
      for (const int samples : {-480, 480}) {
        row[static_cast<std::size_t>(jigtime::test::LagRows::half + samples)] += 13;
      }
    }
    map.add(10.0 * i, row, 5);
  }
  return map;
}

}  // namespace

TEST_CASE("where all windows heard hammering alone, the line may be a blow off; single sounds tell it") {
  const Segment line = segment(0, 190, 5);
  CHECK(doubt_beside(hammered(0), line, {line}) > 0.009);
  CHECK(doubt_beside(hammered(0), line, {line}) < 0.016);
  CHECK(doubt_beside(hammered(10), line, {line}) == 0);
  // What another piece heard is not asked.
  const Segment last_half = segment(100, 190, 5), first_half = segment(0, 95, 5.5);
  CHECK(doubt_beside(hammered(10), last_half, {last_half, first_half}) > 0.009);
}

TEST_CASE("a piece that lies beside the main one by a blow in doubt is taken out, and one that lies further is not") {
  std::vector<Segment> both = {segment(0, 90, 5), segment(100, 190, 5.03)};
  doubt_blows(hammered(0), both);
  REQUIRE(both.size() == 1);
  CHECK(both[0].doubt >= 0.0149);
  std::vector<Segment> loss = {segment(0, 90, 5), segment(100, 190, 5.4)};
  doubt_blows(hammered(0), loss);
  CHECK(loss.size() == 2);
}

TEST_CASE("lags that lie together are a line, lags all over a beat are not") {
  CHECK(on_one_line(segment(0, 100, 5)));
  Segment beat = segment(0, 100, 5);
  for (std::size_t i = 0; i < beat.observations.size(); ++i) {
    beat.observations[i].lag += -0.019 + 0.0038 * static_cast<double>(i);
  }
  CHECK(!on_one_line(beat));
  // Four that lie together to a third of a millisecond say more than four to some milliseconds.
  Segment few = segment(0, 30, 5);
  CHECK(on_one_line(few));
  for (std::size_t i = 0; i < few.observations.size(); ++i) few.observations[i].lag += 0.002 * static_cast<double>(i);
  CHECK(!on_one_line(few));
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

TEST_CASE("a piece of a gap explains it by what is loud, or by windows of which most agree and hardly any elsewhere") {
  const auto piece = [](int agreed, Rank rank) {
    Segment found = segment(0, 190, 5);
    found.within = 0.9;
    found.explained = 0.57;
    found.windows = 20;
    found.agreed = agreed;
    for (int i = 0; i < found.windows; ++i) {
      const bool agrees = i < agreed;
      found.glimpses.push_back({10.0 * i, 30, agrees, agrees, 30, 30, agrees ? Rank::surely : rank});
    }
    return found;
  };
  CHECK(explains_gap(piece(14, Rank::none)));
  CHECK_FALSE(explains_gap(piece(11, Rank::none)));
  CHECK_FALSE(explains_gap(piece(14, Rank::outdone)));
  Segment short_one = piece(14, Rank::none);
  short_one.within = 0.5;
  short_one.explained = 0.35;
  CHECK_FALSE(explains_gap(short_one));
  short_one.explained = 0.45;  // nearly all of its part
  CHECK(explains_gap(short_one));
}

TEST_CASE("windows next to a piece that agree without a break are explained with it, and no others") {
  Segment one = segment(40, 60, 5);
  for (double t = 5; t < 100; t += 10) {
    Glimpse glimpse;
    glimpse.at = t;
    glimpse.happens = 1;
    glimpse.agrees = t != 15 && t != 85;
    one.glimpses.push_back(glimpse);
  }
  Segment wider = one;
  count_fringe(wider);  // from 25 to 75: the windows at 5 and 95 lie beyond a break
  CHECK(wider.within == doctest::Approx(0.6));
  CHECK(wider.explained == doctest::Approx(0.6));
  CHECK(wider.from == one.from);
  SUBCASE("where its own last window does not agree nothing is added there") {
    one.glimpses[5].agrees = false;
    count_fringe(one);
    CHECK(one.within == doctest::Approx(0.4));
    CHECK(one.explained == doctest::Approx(0.3));
  }
  SUBCASE("a piece in which no window lies keeps what it has") {
    one.from = 46;
    one.to = 54;
    one.within = 0.2;
    count_fringe(one);
    CHECK(one.within == 0.2);
  }
}

TEST_CASE("where noise hides all that happens the proof must do, and where work is heard it must be explained") {
  Segment hidden = segment(0, 40, 5);
  hidden.within = hidden.explained = 0;
  hidden.audible = 3;
  hidden.proof = 20;
  hidden.agreed = 9;
  CHECK(explains_enough({hidden}));
  CHECK(!explains_enough({hidden, hidden}));  // a machine half a second on: no loss is told by what cannot be heard
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
TEST_CASE("work that one clip alone hears beside what fits speaks against it, as much as it is; silence does not") {
  // As many windows that agree, and beside them some that one clip hears as loudly, half as loudly, or hardly.
  const auto match = [](int agreeing, int beside, double in_a, double in_b, double usual = 30) {
    Segment part;
    part.to = 3.0 * (agreeing - 1);
    for (int i = 0; i < agreeing; ++i) part.glimpses.push_back({3.0 * i, 20, true, true, usual, usual});
    for (int i = agreeing; i < agreeing + beside; ++i) {
      part.glimpses.push_back({3.0 * i, 0, false, false, in_a, in_b});
    }
    return std::vector<Segment>{part};
  };
  CHECK(goes_on_alone(match(10, 6, 30, 1)));
  CHECK(goes_on_alone(match(10, 6, 1, 16)));
  CHECK_FALSE(goes_on_alone(match(10, 5, 30, 1)));
  CHECK_FALSE(goes_on_alone(match(10, 30, 14, 14)));
  CHECK_FALSE(goes_on_alone(match(10, 30, 8, 1, 8)));  // all of it is little more than noise
}

TEST_CASE("a hole between two segments that a went through hearing loudly is no loss; one that b lost is") {
  // Five windows agree on either side of a hole of a minute, in which a goes on as loud.
  const auto two = [](double jump, double in_hole) {
    Segment before, after;
    before.proof = 40;
    before.from = 0;
    before.to = 20;
    after.from = 85;
    after.to = 105;
    before.fit.line = {0, 3, 0};
    after.fit.line = {0, 3 + jump, 0};
    for (int i = 0; i < 22; ++i) {
      const double t = 5.0 * i;
      const bool early = t <= before.to, late = t >= after.from;
      const double loud = early || late ? 30 : in_hole;
      before.glimpses.push_back({t, loud, early, early, loud, loud});
      after.glimpses.push_back({t, loud, late, late, loud, loud});
    }
    return std::vector{before, after};
  };
  CHECK_FALSE(goes_on_alone(two(-60, 30)));
  CHECK(goes_on_alone(two(-2, 30)));
  CHECK(goes_on_alone(two(60, 30)));
  CHECK_FALSE(goes_on_alone(two(60, 1)));
}

TEST_CASE("what agrees along other lines too, seconds away, is a song; a loss or a blow beside is not") {
  const auto along = [](double lag, double from, double to, double proof) {
    Segment one = segment(from, to, lag);
    one.proof = proof;
    for (double t = from; t <= to; t += 3) one.glimpses.push_back({t, 20, true, true, 30, 30});
    return one;
  };
  const Segment song = along(5, 0, 60, 40), bar = along(7.2, 0, 33, 20), other_bar = along(2.8, 21, 60, 18);
  CHECK(only_repeats({song, bar, other_bar}));
  CHECK(only_repeats({bar, other_bar, song}));
  CHECK_FALSE(only_repeats({song, bar, other_bar}, 0.5));  // one of them is proven by less
  CHECK_FALSE(only_repeats({song}));
  CHECK_FALSE(only_repeats({song, along(7.2, 0, 15, 20)}));    // a phrase heard twice in an hour of work
  CHECK_FALSE(only_repeats({song, along(5.04, 0, 60, 20)}));   // a blow later
  CHECK_FALSE(only_repeats({song, along(9.5, 66, 120, 20)}));  // what goes on after a loss of 4.5 s
}

TEST_CASE("a place a bar away that the coarse search finds nearly as good is that of a rhythm") {
  Segment found;
  found.to = 60;
  found.proof = 40;
  found.fit.line = {0, 5, 20e-6};
  const auto at = [](double lag, double score) { return Candidate{{30, lag, 0}, 60e-6, 10, 50, score, 3}; };
  CHECK(likely_elsewhere(std::array{at(5, 18.7), at(6.3, 15.6)}, {found}));
  CHECK(likely_elsewhere(std::array{at(6.3, 15.6), at(5, 10)}, {found}));
  CHECK_FALSE(likely_elsewhere(std::array{at(5, 18.7), at(6.3, 9.7)}, {found}));
  CHECK_FALSE(likely_elsewhere(std::array{at(5, 18.7), at(5.04, 15.6)}, {found}));  // a blow later
  CHECK_FALSE(likely_elsewhere(std::array{at(9, 7.5)}, {found}));  // found otherwise: luck has such scores anywhere
  CHECK_FALSE(likely_elsewhere(std::array{at(5, 7.5), at(6.3, 7.4)}, {found}));
  CHECK_FALSE(likely_elsewhere({}, {found}));
  // Beyond a loss, where the other piece says so; but not where that piece is not, nor at another lag.
  const Segment after = segment(70, 120, 6.3);
  const Candidate lost{{95, 6.3, 0}, 60e-6, 80, 110, 15.6, 3};
  CHECK(likely_elsewhere(std::array{at(5, 18.7), lost}, {found}));
  CHECK_FALSE(likely_elsewhere(std::array{at(5, 18.7), lost}, {found, after}));
  CHECK(likely_elsewhere(std::array{at(5, 18.7), at(6.3, 15.6)}, {found, after}));
  CHECK(likely_elsewhere(std::array{at(5, 18.7), lost}, {found, segment(70, 120, 9)}));
  const Candidate in_both{{60, 6.3, 0}, 60e-6, 30, 110, 15.6, 3};  // heard in the strongest one's stretch too
  CHECK(likely_elsewhere(std::array{at(5, 18.7), in_both}, {found, after}));
}

TEST_CASE("a place that the coarse search heard is tried where a piece was proven at one that it did not hear") {
  const Segment before = segment(0, 170, 55.5), after = segment(180, 266, 55.75);
  const auto heard = [](double lag, double score, double from, double to) {
    return Candidate{{0, lag, 0}, 60e-6, from, to, score, 1};
  };
  const Candidate first = heard(55.5, 42, 45, 135), lost = heard(59.68, 24, 225, 225), bar = heard(63, 18, 135, 135);
  const std::array all{first, lost, bar};
  CHECK(heard_better(lost, all, {before, after}));
  CHECK_FALSE(heard_better(bar, all, {before, after}));  // what is proven there was heard better
  CHECK_FALSE(heard_better(lost, all, {before}));        // nothing is proven there
  CHECK_FALSE(heard_better(first, all, {before, after}));
  CHECK_FALSE(heard_better(heard(59.68, 7, 225, 225), all, {before, after}));  // luck has such scores anywhere
  const std::array both{first, lost, heard(55.75, 30, 225, 225)};
  CHECK_FALSE(heard_better(lost, both, {before, after}));
}

TEST_CASE("two clips sound alike elsewhere where the coarse search hears more than luck at a lag that is no piece's") {
  const Segment before = segment(0, 30, 4), after = segment(40, 90, 6.5);
  const auto heard = [](double lag, double score) { return Candidate{{0, lag, 0}, 0, 0, 90, score, 3}; };
  const std::array own{heard(4.05, 40), heard(6.45, 30)};
  CHECK_FALSE(alike_elsewhere(own, {before, after}));
  const std::array bar{heard(4.05, 28), heard(8.6, 9)}, worse{heard(4.05, 40), heard(8.6, 9)};
  CHECK_FALSE(alike_elsewhere(worse, {before, after}));
  CHECK(alike_elsewhere(bar, {before, after}));
  const std::array luck{heard(4.05, 20), heard(8.6, 7)};
  CHECK_FALSE(alike_elsewhere(luck, {before, after}));
  CHECK(alike_elsewhere(own, {before}));
}

TEST_CASE("only pieces half a second or more apart are as far from each other as bars of music") {
  CHECK_FALSE(a_bar_apart({}));
  CHECK_FALSE(a_bar_apart({segment(0, 30, 4)}));
  CHECK_FALSE(a_bar_apart({segment(0, 30, 4), segment(40, 90, 4.45)}));
  CHECK(a_bar_apart({segment(0, 30, 4), segment(40, 90, 4.3), segment(95, 120, 4.85)}));
  CHECK(a_bar_apart({segment(0, 30, 4), segment(40, 90, -20)}));
}

TEST_CASE("windows vote for another piece's line where most stand out there and hardly any on their own") {
  const Line own{0, 241.16, 40e-6}, another{0, 265.78, 40e-6};
  // Eight windows: so many stand out on either line, give or take the width of a shop, and all somewhere else.
  const auto vote = [&](int on_another, int on_own, double off) {
    std::vector<std::vector<Vote>> by_window;
    for (int i = 0; i < 8; ++i) {
      const double at = 4.0 + 3 * i;
      std::vector<Vote> votes{{at, 100.0 + 20 * i, 5.4}};
      if (i < on_another) votes.push_back({at, another(at) + off, 7});
      if (8 - i <= on_own) votes.push_back({at, own(at), 6});
      by_window.push_back(votes);
    }
    return vote_for_another(by_window, own, another);
  };
  CHECK(vote(7, 0, 0));
  CHECK(vote(4, 1, 0.012));
  CHECK_FALSE(vote(4, 1, 0.03));
  CHECK_FALSE(vote(3, 0, 0));
  CHECK_FALSE(vote(7, 4, 0));
  CHECK_FALSE(vote(0, 8, 0));
  CHECK_FALSE(vote_for_another({{{4, another(4), 9}}, {{8, another(8), 9}}}, own, another));  // two may be luck
}

TEST_CASE("what leans to a line says nothing where more goes on alone than agrees") {
  const auto leaning = [](int alone) {
    Segment main = segment(0, 50, 3);
    main.leans = true;
    for (int i = 0; i <= 5; ++i) main.glimpses.push_back({10.0 * i, 30, true, true, 30, 30});
    for (int i = 0; i < alone; ++i) main.glimpses.push_back({60.0 + 10 * i, 30, false, false, 30, 30});
    return main;
  };
  CHECK(leans({leaning(0)}));
  CHECK(leans({leaning(5)}));
  CHECK_FALSE(leans({leaning(6)}));
  Segment none = leaning(0);
  none.leans = false;
  CHECK_FALSE(leans({none}));
}

TEST_CASE("where it is hard to hear, what is loud must agree as often as what is faint") {
  Segment before, after;
  before.explained = 0.2;
  after.explained = 0.24;
  CHECK(louder_agrees({before, after}, 0.3));
  CHECK(louder_agrees({before, after}, 0.45));
  CHECK_FALSE(louder_agrees({before, after}, 0.5));
  CHECK_FALSE(louder_agrees({after}, 0.5));
  Segment hidden;
  hidden.audible = 20;
  CHECK(louder_agrees({hidden}, 0.5));
}

TEST_CASE("a piece tells nothing of a stretch in which few of its loud windows agree") {
  const auto two = [](int agreeing) {
    Segment main, rest;
    main.proof = 40;
    main.to = 40;
    main.fit.line = {0, 3, 0};
    rest.proof = 10;
    rest.from = 45;
    rest.to = 95;
    rest.fit.line = {0, 5.2, 0};
    for (int i = 0; i < 20; ++i) {
      const double t = 5.0 * i;
      const bool early = t <= main.to, late = t >= rest.from && t < rest.from + 5.0 * agreeing;
      main.glimpses.push_back({t, 30, early, early, 30, 30});
      rest.glimpses.push_back({t, 30, late, late, 30, 30});
    }
    return std::vector{main, rest};
  };
  CHECK_FALSE(goes_on_alone(two(4)));
  CHECK(goes_on_alone(two(3)));
}

TEST_CASE("a candidate was heard along a piece where its middle lies in the piece and on its line") {
  const std::vector<Segment> proven = {segment(0, 90, 5), segment(100, 190, 7)};
  const auto at = [](double lag, double from, double to) { return Candidate{{50, lag, 0}, 0, from, to, 10, 1}; };
  CHECK(heard_along(at(5.01, 20, 60), proven));
  CHECK(heard_along(at(7, 120, 160), proven));
  CHECK_FALSE(heard_along(at(7, 20, 60), proven));    // the other piece's line
  CHECK_FALSE(heard_along(at(5, 120, 160), proven));  // its own line, but beyond its end
  CHECK_FALSE(heard_along(at(5, 20, 60), {}));
}
