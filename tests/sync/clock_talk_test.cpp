#include "sync/clock_talk.h"

#include <doctest/doctest.h>

#include <vector>

#include "sync/pair_word.h"

using namespace jigtime;
using namespace jigtime::sync;
using jigtime::test::heard;

namespace {

constexpr double noon = 1.7735e9;  // in March

/// Clips of ten minutes, and what pairs of them say.
struct Shop {
  std::vector<ClipInput> clips;
  std::vector<PairMatch> matches;

  /// Filmed from `begin` on by a camera whose clock is ahead by `ahead`.
  int film(int camera, double begin, double ahead = 0, double midday = noon) {
    ClipInput clip;
    clip.camera = camera;
    clip.length = from_seconds(600);
    clip.clocks = {{WallTime{from_seconds(midday + begin + ahead)}, from_seconds(1.3), 1}};
    clips.push_back(clip);
    return static_cast<int>(clips.size()) - 1;
  }
  void prove(int a, int b, double a_begin, double b_begin) {
    matches.push_back(heard(a, b, 20, 200, a_begin - b_begin));
    matches.back().overlap = 180;
  }
  void doubt(int a, int b, double a_begin, double b_begin) {
    prove(a, b, a_begin, b_begin);
    std::swap(matches.back().segments, matches.back().doubted);
    matches.back().overlap = 0;
  }
  /// Whether the first pair is believed in the end.
  bool believed() {
    ask_cameras(clips, matches);
    const PairMatch& asked = matches.front();
    CHECK(asked.segments.empty() != asked.doubted.empty());
    CHECK(asked.overlap == doctest::Approx(length_of(asked.segments)));
    return !asked.segments.empty();
  }
};

/// A doubted pair of the cameras 0 and 1, and what two other clips of the same cameras prove of their clocks.
bool believed_by_another_pair(double ahead, double then_ahead) {
  Shop shop;
  const int a = shop.film(0, 0), b = shop.film(1, 30, ahead);
  const int c = shop.film(0, 3000), d = shop.film(1, 3050, then_ahead);
  shop.doubt(a, b, 0, 30);
  shop.prove(d, c, 3050, 3000);
  return shop.believed();
}

}  // namespace

TEST_CASE("a doubted pair is believed where another pair of the same cameras tells the same of their clocks") {
  CHECK(believed_by_another_pair(0, 0));
  CHECK(believed_by_another_pair(5000, 5001));
  CHECK_FALSE(believed_by_another_pair(5000, 5010));
  CHECK_FALSE(believed_by_another_pair(0, 10));  // clocks that agree, but not as the other pair has it
}

TEST_CASE("a third camera tells of two others' clocks") {
  for (const double off : {0.0, 20.0}) {
    Shop shop;
    const int a = shop.film(0, 0), b = shop.film(1, 30, 700 + off);
    const int third = shop.film(2, 3000, 90);
    shop.doubt(a, b, 0, 30);
    shop.prove(third, shop.film(0, 3000), 3000, 3000);
    shop.prove(shop.film(1, 3010, 700), third, 3010, 3000);
    CHECK(shop.believed() == (off == 0));
  }
}

TEST_CASE("where nothing is proven, clocks that are hardly apart bear a pair out, and no clock at its factory date") {
  const auto believed = [](double ahead, double midday) {
    Shop shop;
    const int a = shop.film(0, 0, 0, midday), b = shop.film(1, 30, ahead, midday);
    shop.doubt(b, a, 30, 0);
    return shop.believed();
  };
  const double new_year = 1.4516064e9;  // 2016-01-01 00:00 UTC
  CHECK(believed(4, noon));
  CHECK(believed(-4, noon));
  CHECK_FALSE(believed(10, noon));
  CHECK_FALSE(believed(3600, noon));
  CHECK_FALSE(believed(86400, noon));
  CHECK_FALSE(believed(2, new_year + 600));
  CHECK(believed(2, new_year + 3 * 86400));
}

TEST_CASE("clocks whole half hours apart show two zones' times, where more than an hour's news was heard") {
  const auto believed = [](double ahead, double seconds, double midday = noon) {
    Shop shop;
    const int a = shop.film(0, 0, 0, midday), b = shop.film(1, 30, ahead, midday);
    shop.doubt(b, a, 30, 0);
    Segment& heard = shop.matches.front().doubted.front();
    heard.to = heard.from + seconds;
    return shop.believed();
  };
  CHECK(believed(7200, 250));
  CHECK(believed(-8 * 3600 - 1800 - 1.5, 250));
  CHECK_FALSE(believed(7200, 200));       // each full hour's jingle and news may be alike for so long
  CHECK_FALSE(believed(7210, 500));       // a list of songs, played twice
  CHECK_FALSE(believed(24 * 3600, 500));  // at the same time of another day
  CHECK_FALSE(believed(7200, 500, 1.4516064e9));
  // A jingle at the beginning, and another one at the end.
  Shop shop;
  shop.doubt(shop.film(0, 0), shop.film(1, 30, 7200), 0, 30);
  std::vector<Segment>& jingles = shop.matches.front().doubted;
  jingles.front().to = jingles.front().from + 10;
  jingles.push_back(jingles.front());
  jingles.back().from += 300;
  jingles.back().to += 300;
  CHECK_FALSE(shop.believed());
}

TEST_CASE("several pairs that say the same of two zones' times count together") {
  for (const double second_says : {7201.0, 7209.0}) {
    CAPTURE(second_says);
    Shop shop;
    const int long_one = shop.film(0, 0);
    shop.doubt(long_one, shop.film(1, 20, 7203), 0, 20);
    shop.doubt(long_one, shop.film(1, 300, second_says), 0, 300);
    for (PairMatch& match : shop.matches) {
      match.doubted.front().to = match.doubted.front().from + 150;
      shop.clips[static_cast<std::size_t>(match.b)].length = from_seconds(200);
    }
    CHECK(shop.believed() == (second_says < 7205));
  }
}

TEST_CASE("without a clock, or with one that cannot be, a doubted pair stays so") {
  Shop shop;
  const int a = shop.film(0, 0), b = shop.film(1, 30);
  shop.doubt(a, b, 0, 30);
  SUBCASE("no clock") { shop.clips[1].clocks.clear(); }
  SUBCASE("the time of a file") { shop.clips[1].clocks[0].sigma = from_seconds(5); }
  SUBCASE("two clips at once") { shop.film(1, 60); }
  CHECK_FALSE(shop.believed());
}

TEST_CASE("doubted pairs bear each other out if they say the same of clocks hours apart, farther apart than a song") {
  const auto believed = [](double ahead, double later, double off, double midday = noon) {
    Shop shop;
    shop.doubt(shop.film(0, 0, 0, midday), shop.film(1, 10, ahead, midday), 0, 10);
    shop.doubt(shop.film(0, later, 0, midday), shop.film(1, later + 10, ahead + off, midday), later, later + 10);
    return shop.believed();
  };
  CHECK(believed(7200, 610, 0));
  CHECK_FALSE(believed(7200, 610, 9));
  CHECK(believed(-1300, 3000, 1));
  CHECK_FALSE(believed(86400 - 1300, 3000, 0));     // the same songs in the same order on the next day
  CHECK_FALSE(believed(11 * 3600 + 777, 3000, 0));  // the next morning
  CHECK_FALSE(believed(2, 3000, 0, 1.4516064e9));   // both clocks began anew
  // Parts of one song on another day, a few minutes apart; whichever clip of a pair comes first.
  for (const bool turned : {false, true}) {
    CAPTURE(turned);
    Shop shop;
    for (const double later : {0.0, 230.0}) {
      const int a = shop.film(0, later), b = shop.film(1, later, 1300);
      shop.doubt(turned && later > 0 ? b : a, turned && later > 0 ? a : b, later, later);
    }
    for (auto& clip : shop.clips) clip.length = from_seconds(220);
    CHECK_FALSE(shop.believed());
  }
}

TEST_CASE("of a stranger's clip no other pair of the same clip tells, where others do") {
  // Clip 1 is of yesterday, by the same camera as 3 and 5; its song fits clips 0 and 2 alike.
  Shop shop;
  const int a = shop.film(0, 0), stranger = shop.film(1, 30, -86400);
  const int c = shop.film(0, 700), d = shop.film(1, 710), e = shop.film(0, 1400), f = shop.film(1, 1410);
  shop.doubt(a, stranger, 0, 30);
  shop.prove(c, stranger, 700, 730);
  shop.prove(c, d, 700, 710);
  shop.prove(e, f, 1400, 1410);
  CHECK_FALSE(shop.believed());
}

TEST_CASE("doubted pairs that say two things of the same clocks are not believed, unless more say the one") {
  for (const bool third : {false, true}) {
    Shop shop;
    shop.doubt(shop.film(0, 0), shop.film(1, 10), 0, 10);
    shop.doubt(shop.film(0, 700), shop.film(1, 710), 700, 730);
    if (third) shop.doubt(shop.film(0, 1400), shop.film(1, 1410), 1400, 1410);
    CHECK(shop.believed() == third);
    CHECK(shop.matches[1].segments.empty());
  }
}

TEST_CASE("a pair that nothing else ties is doubted where two others tell another difference of the clocks") {
  const auto believed = [](double off, int others, bool tied) {
    Shop shop;
    const int a = shop.film(0, 0), b = shop.film(1, 10);
    shop.prove(a, b, 0, 10 + off);
    for (int i = 1; i <= others; ++i) {
      const double later = 700.0 * i;
      shop.prove(shop.film(0, later), shop.film(1, later + 20), later, later + 20);
    }
    if (tied) shop.prove(b, shop.film(2, 15), 10, 15);
    const bool stays = shop.believed();
    // Of another day it is the sound that is wrong, no clock.
    CHECK(shop.matches.front().against_clocks == (!stays && off < 43200));
    return stays;
  };
  CHECK(believed(0, 2, false));
  CHECK(believed(4, 2, false));
  CHECK_FALSE(believed(48, 2, false));
  CHECK(believed(48, 1, false));
  CHECK(believed(48, 2, true));
  CHECK(believed(3600, 2, false));            // set to another zone
  CHECK_FALSE(believed(86400, 2, false));     // of another day
  CHECK_FALSE(believed(86400, 2, true));      // though one of the two belongs to this one
  CHECK(believed(3000 * 86400.0, 2, false));  // begun anew
}

TEST_CASE("where clips lie by the clocks is told for either order, and not by two settings of a clock") {
  Shop shop;
  const int a = shop.film(0, 0), b = shop.film(1, 30, 500);
  shop.prove(shop.film(1, 3010, 500), shop.film(0, 3000), 3010, 3000);
  const auto lag = [&](int x, int y) { return ClockTalk{shop.clips, shop.matches}.expected_lag(x, y); };
  REQUIRE(lag(a, b).has_value());
  CHECK(*lag(a, b) == doctest::Approx(-30));
  CHECK(*lag(b, a) == doctest::Approx(30));
  const int later = shop.film(1, 5000, 500);
  CHECK_FALSE(lag(a, later).has_value());  // they do not run together
  shop.prove(shop.film(1, 4010, 540), shop.film(0, 4000), 4010, 4000);
  CHECK_FALSE(lag(a, b).has_value());
}
