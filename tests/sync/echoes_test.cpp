#include "sync/echoes.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "blows.h"

using namespace jigtime;
using namespace jigtime::sync;
using test::add_blow;

namespace {

constexpr double seconds = 80;
constexpr double later = 7.3;  // the second clip begins

using Samples = std::vector<float>;

/// Blows every two or three seconds from `at` on: the same number, the same work.
void work(Samples& sound, double at, double level, std::uint64_t number) {
  test::Dice dice{number};
  for (double t = 1; t < seconds; t += dice.uniform(2, 3)) add_blow(sound, t + at, level, dice.number());
}

/// A song with a faint beat, the same every time.
void song(Samples& sound, double at, double level) { work(sound, at, level, 99); }

Samples noise(std::uint64_t number, double level = 0.002) { return test::noise(seconds, number, level); }

Frames frames(const Samples& sound) {
  FeatureMaker maker{ClipTime{}};
  maker.add(sound);
  return Frames{maker.finish()};
}

Segment all_of_it() {
  Segment segment;
  segment.from = later + 2;
  segment.to = seconds - 2;
  segment.fit.line = {20, -later, 0};
  return segment;
}

bool judged_along(const Segment& segment, const Samples& a, const Samples& b, const Extent& both, double agreeing) {
  return work_alone(blows_along(frames(a), frames(b), {&segment, 1}, both), both.length(), agreeing);
}

bool alone(const Samples& a, const Samples& b, double agreeing = 0.7) {
  const Segment segment = all_of_it();
  return judged_along(segment, a, b, {later, seconds}, agreeing);
}

}  // namespace

TEST_CASE("loud blows are heard in the other clip where the line says, and nowhere else") {
  Samples a = noise(1), b = noise(2);
  work(a, 0, 0.3, 7);
  work(b, -later, 0.1, 7);
  const Frames in_a = frames(a), in_b = frames(b);
  const Line line{20, -later, 0};
  const Echoes right = echoes_of(in_a, in_b, {later + 1, seconds - 1}, line);
  CHECK(right.events >= 20);
  CHECK(right.heard == right.events);
  const Echoes back = echoes_of(in_b, in_a, {1, seconds - later - 1}, reversed(line));
  CHECK(back.events >= 20);
  CHECK(back.heard == back.events);
  const Echoes wrong = echoes_of(in_a, in_b, {later + 1, seconds - 1}, {20, -later + 0.9, 0});
  CHECK(wrong.heard < wrong.events / 4);
}

TEST_CASE("a song under the work of two days leaves each clip's work alone") {
  Samples a = noise(1), b = noise(2);
  work(a, 0, 0.3, 7);
  work(b, 0, 0.3, 8);
  song(a, 0, 0.01);
  song(b, -later, 0.01);
  CHECK(alone(a, b));
  CHECK(alone(a, b, 1.0));
  SUBCASE("on one day both hear it") {
    work(a, later, 0.3, 8);
    work(b, -later, 0.3, 7);
    CHECK_FALSE(alone(a, b));
  }
}

TEST_CASE("a song with a loud beat is heard in both, but most of one day's work is not") {
  Samples a = noise(1), b = noise(2);
  for (double t = 9; t < 78; t += 9.7) {
    add_blow(a, t, 0.3, static_cast<std::uint64_t>(10 * t));
    add_blow(b, t - later, 0.3, static_cast<std::uint64_t>(10 * t));
  }
  work(a, 0.6, 0.5, 7);
  CHECK_FALSE(alone(a, b));  // all that b heard is in a: a hand on its camera may have made the rest
  for (const double t : {13.0, 27.5, 44.0}) add_blow(b, t, 0.4, 1000 + static_cast<std::uint64_t>(t));
  CHECK(alone(a, b));
}

TEST_CASE("a few blows say nothing where nearly all windows agree") {
  Samples a = noise(1), b = noise(2);
  for (const double t : {12.0, 20.0, 30.0, 45.0, 60.0}) {
    add_blow(a, t, 0.3, 3);
    add_blow(b, t - 2, 0.3, 4);
  }
  CHECK(alone(a, b));
  CHECK_FALSE(alone(a, b, 0.95));
}

TEST_CASE("of many blows one in four may go unheard on one day, but not every second") {
  for (const int of : {4, 3}) {
    CAPTURE(of);
    Samples a = noise(1), b = noise(2);
    test::Dice dice{7};
    int i = 0;
    for (double t = 1; t < seconds; t += dice.uniform(2, 2.6), ++i) {
      const auto number = dice.number();
      if (i % of != 0) add_blow(a, t, 0.3, number);
      if (i % of != 2) add_blow(b, t - later, 0.3, number);
    }
    CHECK(alone(a, b) == (of == 3));
  }
}

TEST_CASE("what is loud in one clip only may be the wind or a hand on the camera") {
  Samples a = noise(1), b = noise(2);
  work(a, 0, 0.3, 7);
  song(a, 0, 0.01);
  song(b, -later, 0.01);
  CHECK_FALSE(alone(a, b));
  // Both hear the work, and one camera is handled all the time.
  work(b, -later, 0.3, 7);
  work(a, 0.7, 0.4, 9);
  CHECK_FALSE(alone(a, b));
}

TEST_CASE("where noise hides the work, or hardly anything is done, nothing is said") {
  Samples a = noise(1, 0.1), b = noise(2, 0.1);
  work(a, 0, 0.1, 7);
  work(b, 0, 0.1, 8);
  CHECK(echoes_of(frames(a), frames(b), {later, seconds}, {20, -later, 0}).events == 0);
  CHECK_FALSE(alone(a, b));
  Samples quiet_a = noise(1), quiet_b = noise(2);
  for (const double at : {30.0, 60.0}) add_blow(quiet_a, at, 0.3, 3);
  add_blow(quiet_b, 30, 0.3, 4);
  CHECK_FALSE(alone(quiet_a, quiet_b));
}

TEST_CASE("blows that are all alike and follow each other are heard") {
  Samples a = noise(1), b = noise(2);
  for (double t = 10; t < 70; t += 0.4) {
    add_blow(a, t, 0.2, 5);
    add_blow(b, t - later, 0.2, 5);
  }
  const Echoes echoes = echoes_of(frames(a), frames(b), {12, 68}, {20, -later, 0});
  CHECK(echoes.events >= 10);
  CHECK(echoes.heard == echoes.events);
}

TEST_CASE("wind, which is dull, is nobody's work") {
  Samples a = noise(1), b = noise(2);
  test::Dice dice{3};
  double slow = 0, slower = 0;
  for (float& sample : a) {
    slow += 0.01 * (dice.normal() - slow);
    slower += 0.01 * (slow - slower);
    const double swell = std::pow(std::sin(static_cast<double>(&sample - a.data()) / (3.0 * sample_rate_hz)), 8);
    sample += static_cast<float>(slower * swell);
  }
  const Frames in_a = frames(a);
  CHECK(in_a.activity(later, seconds) > 3 * frames(b).activity(0, seconds - later));
  CHECK(echoes_of(in_a, frames(b), {later, seconds}, {20, -later, 0}).events == 0);
}

TEST_CASE("work beside the stretch that both heard counts as well") {
  Samples a = noise(1), b = noise(2);
  for (double t = 20; t < 40; t += 1.7) {
    add_blow(a, t, 0.3, static_cast<std::uint64_t>(10 * t));
    add_blow(b, t - later, 0.3, static_cast<std::uint64_t>(10 * t));
  }
  for (double t = 46; t < 76; t += 3.1) {
    add_blow(a, t, 0.3, static_cast<std::uint64_t>(10 * t));
    add_blow(b, t + 1.4 - later, 0.3, static_cast<std::uint64_t>(10 * t));
  }
  Segment segment = all_of_it();
  segment.from = 20;
  segment.to = 40;
  const auto judged = [&](const Extent& both) { return judged_along(segment, a, b, both, 0.7); };
  CHECK_FALSE(judged({20, 40}));
  CHECK(judged({later, seconds}));
}

TEST_CASE("what one clip did not record is not held against the other") {
  Samples a = noise(1), b = noise(2);
  work(a, 0, 0.3, 7);
  std::fill(b.begin(), b.end(), 0.0f);
  CHECK(echoes_of(frames(a), frames(b), {later, seconds}, {20, -later, 0}).events == 0);
}

TEST_CASE("a line turned round leads back") {
  const Line line{100, 25, 80e-6};
  const Line back = reversed(line);
  for (const double t : {0.0, 100.0, 7200.0}) {
    const double in_b = t + line(t);
    CHECK(in_b + back(in_b) == doctest::Approx(t).epsilon(1e-12));
  }
}

TEST_CASE("nothing at all has no events") {
  const Frames none;
  const Echoes echoes = echoes_of(none, none, {0, 100}, {});
  CHECK(echoes.events == 0);
  CHECK(echoes_of(frames(noise(1)), none, {0, 100}, {}).events == 0);
  CHECK(echoes_of(frames(noise(1)), frames(noise(2)), {5, 5}, {}).events == 0);
}

TEST_CASE("the work of one clip alone is enough where the other clip hears none of it, much of it in a long overlap") {
  Samples a = noise(31), b = noise(32);
  work(b, -later, 0.1, 33);
  const auto judged = [&](const Samples& one, double length) {
    Segment segment = all_of_it();
    segment.from = later;
    segment.to = later + length;
    return judged_along(segment, one, b, {later, later + length}, 0.7);
  };
  CHECK(judged(a, 28));
  CHECK_FALSE(judged(a, 34));  // noise may hide what little is far
  CHECK(judged(a, 60));
  Samples hears = noise(34);
  work(hears, 0, 0.1, 33);
  CHECK_FALSE(judged(hears, 28));
  CHECK_FALSE(judged(hears, 60));
}

TEST_CASE("in a long overlap noise may hide many of the only clip's blows, but not most") {
  Samples far = noise(41), near = noise(42);
  // Of every three blows the far clip hears two, none of them loud.
  test::Dice dice{43};
  int blow = 0;
  for (double t = 1; t < seconds - later; t += dice.uniform(1, 2)) {
    const std::uint64_t number = dice.number();
    add_blow(near, t, 0.1, number);
    if (++blow % 3 != 0) add_blow(far, t + later, 0.004, number);
  }
  const Echoes of_near = echoes_of(frames(near), frames(far), {0, seconds - later}, {0, later, 0});
  REQUIRE(of_near.events >= 16);
  REQUIRE(of_near.events - of_near.heard >= of_near.events / 5);
  REQUIRE(echoes_of(frames(far), frames(near), {later, seconds}, {later, -later, 0}).events < 2);
  CHECK_FALSE(alone(far, near));
}

TEST_CASE("blows agree where there are many in most quarters, and nearly all are heard in each") {
  const std::array<Echoes, 4> even{{{4, 4}, {4, 4}, {4, 4}, {4, 4}}};
  CHECK(blows_agree({{10, 8}, {10, 8}, even}));
  CHECK(blows_agree({{3, 0}, {40, 40}, even}));  // three tell nothing of one clip
  CHECK(blows_agree({{}, {20, 18}, even}));      // nor does a clip in which noise hides all
  CHECK_FALSE(blows_agree({{7, 7}, {8, 8}, even}));
  CHECK_FALSE(blows_agree({{10, 8}, {10, 7}, even}));
  CHECK_FALSE(blows_agree({{10, 6}, {90, 90}, even}));
  CHECK_FALSE(blows_agree({{20, 20}, {20, 18}, {{{15, 15}, {10, 10}, {10, 10}, {5, 3}}}}));
  CHECK(blows_agree({{20, 20}, {20, 18}, {{{15, 15}, {12, 12}, {10, 10}, {3, 1}}}}));
  CHECK_FALSE(blows_agree({{10, 10}, {10, 10}, {{{15, 15}, {5, 5}, {0, 0}, {0, 0}}}}));
  CHECK_FALSE(blows_agree({}));
  CHECK(Blows{}.share_heard() == 0);
}

TEST_CASE("the loudest blows agree where nearly all are heard, all along, and fewer of the faintest") {
  const std::array<Echoes, 4> even{{{6, 6}, {6, 5}, {6, 5}, {6, 6}}};
  const auto loudest = [](const Blows::Loudest& loud, const Echoes& faint) {
    Blows blows;
    blows.loudest = loud;
    blows.faintest = faint;
    return blows;
  };
  CHECK(loudest_agree(loudest({{12, 11}, {12, 11}, even}, {24, 12})));
  CHECK(many_loudest_agree(loudest({{12, 11}, {12, 11}, even}, {24, 12})));
  CHECK(loudest_agree(loudest({{6, 6}, {6, 5}, even}, {12, 5})));
  CHECK_FALSE(many_loudest_agree(loudest({{6, 6}, {6, 5}, even}, {12, 5})));
  CHECK_FALSE(loudest_agree(loudest({{6, 6}, {5, 5}, even}, {11, 4})));       // few
  CHECK_FALSE(loudest_agree(loudest({{12, 9}, {12, 9}, even}, {24, 10})));    // too many missed
  CHECK_FALSE(loudest_agree(loudest({{12, 7}, {30, 30}, even}, {42, 10})));   // of one clip
  CHECK_FALSE(loudest_agree(loudest({{12, 12}, {12, 12}, even}, {24, 23})));  // all are heard: it may be a song's beat
  CHECK_FALSE(loudest_agree(loudest({{6, 6}, {6, 5}, even}, {12, 8})));       // or hardly fewer
  CHECK_FALSE(loudest_agree(loudest({{12, 12}, {12, 10}, {{{18, 18}, {0, 0}, {0, 0}, {6, 4}}}}, {24, 12})));
  CHECK_FALSE(loudest_agree(loudest({{12, 12}, {12, 10}, {{{8, 8}, {6, 6}, {5, 5}, {5, 2}}}}, {24, 12})));
  CHECK_FALSE(loudest_agree({}));
  Blows missed = loudest({{12, 11}, {12, 11}, even}, {24, 12});
  missed.of_a = missed.of_b = {36, 24};
  missed.surely_missed = 3;
  CHECK(loudest_agree(missed));
  missed.surely_missed = 4;  // loud work that the other did not hear
  CHECK_FALSE(loudest_agree(missed));
  missed.surely_missed = 3;
  missed.of_a = missed.of_b = {36, 32};  // of little that it did not hear
  CHECK_FALSE(loudest_agree(missed));
}

TEST_CASE("noise hides the faint blows of one day; but not the work of two, be their song fainter or louder") {
  constexpr double level = 0.01;  // of noise
  Samples a = noise(1, level), b = noise(2, level);
  test::Dice dice{5};
  const auto both = [&](double t, double in_a, double in_b) {
    const std::uint64_t number = dice.number();
    add_blow(a, t, in_a, number);
    add_blow(b, t - later, in_b, number);
  };
  const auto count = [&] {
    const Segment segment = all_of_it();
    const Blows blows = blows_along(frames(a), frames(b), {&segment, 1}, {later, seconds});
    REQUIRE(blows.loudest.events() >= 12);
    return blows;
  };
  SUBCASE("one day: of the faint ones, each near one camera, the other hears little") {
    for (double t = later + 1, n = 0; t < seconds - 1; t += 2, ++n) {
      if (std::fmod(n, 3) < 1) both(t, 0.5, 0.5);
      if (std::fmod(n, 3) == 1) both(t, 0.04, 0.002);
      if (std::fmod(n, 3) == 2) both(t, 0.002, 0.04);
    }
    const Blows blows = count();
    CHECK(loudest_agree(blows));
    CHECK_FALSE(blows_agree(blows));
  }
  SUBCASE("a song under the work of two days") {
    for (double t = later + 1; t < seconds - 1; t += 3) both(t, 0.1, 0.1);
    work(a, 0.4, 0.5, 7);
    work(b, 0.4, 0.5, 8);
    CHECK_FALSE(loudest_agree(count()));
  }
  SUBCASE("a song whose drums are louder than the work of two days") {
    for (double t = later + 1; t < seconds - 1; t += 4) both(t, 0.5, 0.5);
    work(a, 0.4, 0.06, 7);
    work(b, 0.4, 0.06, 8);
    const Blows blows = count();
    CHECK(blows.loudest.of_a.heard > 0.8 * blows.loudest.of_a.events);
    CHECK(blows.surely_missed > 0.05 * blows.events());
    CHECK_FALSE(loudest_agree(blows));
  }
}

TEST_CASE("the blows of one day agree along the line, and not a second beside it") {
  Samples a = noise(1), b = noise(2);
  work(a, 0, 0.3, 7);
  work(b, -later, 0.1, 7);
  const Segment segment = all_of_it();
  const Blows one_day = blows_along(frames(a), frames(b), {&segment, 1}, {later, seconds});
  CHECK(one_day.events() >= 40);
  CHECK(blows_agree(one_day));
  Echoes all;
  for (const Echoes& quarter : one_day.quarters) {
    CHECK(quarter.events >= 4);
    all.events += quarter.events;
    all.heard += quarter.heard;
  }
  CHECK(all.events == one_day.events());
  CHECK(all.heard == one_day.of_a.heard + one_day.of_b.heard);
  Segment beside = segment;
  beside.fit.line.lag += 0.9;
  const Blows none = blows_along(frames(a), frames(b), {&beside, 1}, {later, seconds});
  CHECK(none.share_heard() < 0.5 * one_day.share_heard());
}

TEST_CASE("a song with loud drums on two days does not make their blows agree, under work nor where it ends") {
  Samples a = noise(1), b = noise(2);
  const auto beats = [&](double until, double level) {
    for (double t = later; t < until; t += 2.3) {
      add_blow(a, t, level, static_cast<std::uint64_t>(10 * t));
      add_blow(b, t - later, level, static_cast<std::uint64_t>(10 * t));
    }
  };
  const Segment segment = all_of_it();
  const auto agree = [&] { return blows_agree(blows_along(frames(a), frames(b), {&segment, 1}, {later, seconds})); };
  SUBCASE("all there is is the song: nothing tells it from work") {
    beats(seconds, 0.3);
    CHECK(agree());
  }
  SUBCASE("work of either day where the song is over") {
    beats(60, 0.3);
    test::Dice dice{5};
    for (double t = 62; t < seconds - 1; t += 2.3) {
      add_blow(a, t, 0.1, dice.number());
      add_blow(b, t + 1.1 - later, 0.1, dice.number());
    }
    CHECK_FALSE(agree());
  }
  SUBCASE("work of either day all along") {
    beats(seconds, 0.03);
    work(a, 0.6, 0.3, 7);
    work(b, 0.9, 0.3, 8);
    CHECK_FALSE(agree());
  }
}
