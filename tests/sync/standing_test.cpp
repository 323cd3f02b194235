#include "sync/standing.h"

#include <doctest/doctest.h>

#include "sync/lag_rows.h"

using namespace jigtime::sync;

namespace {

/// As many windows with a peak on the line at 5 s, some milliseconds off, beside one another 100 ms away, as told.
LagMap map_with(int windows, float on_line, float beside, int off_samples = 0) {
  jigtime::test::LagRows rows{11};
  LagMap map{{0, 5, 0}, 0.99};
  for (int i = 0; i < windows; ++i) {
    std::vector<float> row = rows.row(0, 0);
    const auto add = [&](int samples, float height) {
      row[static_cast<std::size_t>(jigtime::test::LagRows::half + samples)] += height;
    };
    add(i % 2 == 0 ? off_samples : -off_samples, on_line);
    add(1600, beside);
    map.add(3.0 * i, row, 5);
  }
  return map;
}

constexpr Line line{0, 5, 0};

Segment piece(double from, double to, std::initializer_list<Rank> ranks) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  double t = 0;
  for (const Rank rank : ranks) {
    Glimpse one;
    one.at = t;
    one.rank = rank;
    segment.glimpses.push_back(one);
    t += 3;
  }
  return segment;
}

}  // namespace

TEST_CASE("a window's highest lag lies on the line, elsewhere, or nowhere clearly") {
  CHECK(rank_of(map_with(1, 30, 0), 0, line) == Rank::surely);
  CHECK(rank_of(map_with(1, 30, 0, 160), 0, line) == Rank::surely);   // 10 ms: three metres of way
  CHECK(rank_of(map_with(1, 30, 0, 320), 0, line) == Rank::outdone);  // 20 ms
  CHECK(rank_of(map_with(1, 15, 30), 0, line) == Rank::outdone);
  CHECK(rank_of(map_with(1, 28, 30), 0, line) == Rank::unclear);
  CHECK(rank_of(map_with(1, 0, 0), 0, line) == Rank::none);
  CHECK(rank_of(map_with(1, 30, 0), 0, {0, 5.24, 0}) == Rank::none);  // single samples are not kept so far off
}

TEST_CASE("lags that scatter stand out where most of what is clear lies on the line and little of it elsewhere") {
  const Standing good = standing_of(map_with(8, 30, 0, 100), line);
  CHECK(good.clear == 8);
  CHECK(good.surely == 8);
  CHECK(good.outdone == 0);
  CHECK(stands_out(good));
  CHECK_FALSE(stands_out(standing_of(map_with(2, 30, 0, 100), line)));
  CHECK_FALSE(stands_out(standing_of(map_with(8, 15, 30, 100), line)));
  CHECK(stands_out({.clear = 10, .first = 5, .surely = 3, .outdone = 1}));
  CHECK_FALSE(stands_out({.clear = 11, .first = 5, .surely = 3, .outdone = 1}));
  CHECK_FALSE(stands_out({.clear = 10, .first = 5, .surely = 2, .outdone = 1}));
  CHECK_FALSE(stands_out({.clear = 10, .first = 5, .surely = 3, .outdone = 2}));
}

TEST_CASE(
    "a line stands alone where hardly anything else is clear, and is outdone where others are clearer too often") {
  CHECK(stands_alone({.clear = 8, .first = 6, .surely = 4, .outdone = 0}));
  CHECK(stands_alone({.clear = 10, .first = 6, .surely = 4, .outdone = 0}));
  CHECK_FALSE(stands_alone({.clear = 11, .first = 6, .surely = 4, .outdone = 0}));
  CHECK_FALSE(stands_alone({.clear = 9, .first = 6, .surely = 4, .outdone = 3}));
  CHECK_FALSE(stands_alone({.clear = 8, .first = 8, .surely = 3, .outdone = 0}));
  CHECK(outdone({.clear = 13, .first = 8, .surely = 8, .outdone = 5}));
  CHECK(outdone({.clear = 14, .first = 8, .surely = 8, .outdone = 4}));
  CHECK_FALSE(outdone({.clear = 12, .first = 8, .surely = 8, .outdone = 4}));
  CHECK_FALSE(outdone({.clear = 4, .first = 2, .surely = 2, .outdone = 2}));  // two windows may be luck
}

TEST_CASE("a window agrees undisputed unless it is clearer elsewhere") {
  Segment main = piece(0, 9, {Rank::surely, Rank::none, Rank::outdone, Rank::surely});
  for (Glimpse& one : main.glimpses) one.agrees = true;
  main.glimpses.back().agrees = false;
  CHECK(agreement({main}).all == doctest::Approx(0.75));
  CHECK(agreement({main}).undisputed == doctest::Approx(0.5));
}

TEST_CASE("each piece speaks for its own stretch, the strongest for what no piece covers") {
  constexpr Rank first = Rank::surely, beside = Rank::outdone, none = Rank::none;
  // A loss of less than a quarter of a second: along either line what the other explains is outdone.
  Segment before = piece(0, 9, {first, first, first, first, beside, beside, beside, beside, none});
  Segment after = piece(12, 21, {beside, beside, beside, beside, first, first, first, first, first});
  before.proof = 20;
  after.proof = 10;
  CHECK(standing_of({before}).outdone == 4);
  const Standing both = standing_of({before, after});
  CHECK(both.first == 8);
  CHECK(both.outdone == 0);
  CHECK(both.clear == 8);
}

TEST_CASE("a place a few blows away that several windows hear far better than the line is told as its rival") {
  // Ten windows agree with the line; in some of them another place stands out, as many samples beside the line.
  const auto rival = [](std::initializer_list<int> samples_beside, const Extent& within = {0, 100}) {
    jigtime::test::LagRows rows{17};
    LagMap map{line, 0.99};
    auto beside = samples_beside.begin();
    for (int i = 0; i < 10; ++i) {
      std::vector<float> row = rows.row(0, 15);
      if (beside != samples_beside.end()) {
        row[static_cast<std::size_t>(jigtime::test::LagRows::half + *beside++)] += 30;
      }
      map.add(3.0 * i, row, 5);
    }
    return rival_beside(map, within, line);
  };
  CHECK(rival({640, 560, 720}) == doctest::Approx(0.04).epsilon(0.001));  // 5 ms apart: places in the shop
  CHECK(rival({-640, -640, -720, 480}) == doctest::Approx(0.0425).epsilon(0.001));
  CHECK(rival({640, 640}) == 0);
  CHECK(rival({640, 640, 960}) == 0);            // not in one place
  CHECK(rival({1600, 1600, 1600, 1600}) == 0);   // 100 ms: no blow
  CHECK(rival({160, 160, 160, 160}) == 0);       // 10 ms: another place in the shop, no rival
  CHECK(rival({640, 640, 640}, {2, 100}) == 0);  // one of them lies outside
  CHECK(rival({640, 640, 640}, {0, 100}) > 0);
  CHECK(rival({-480, -480, -480, -480, 960, 960, 960}) == doctest::Approx(0.06).epsilon(0.001));  // the farthest
}
