#include "sync/loud_half.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "blows.h"

using namespace jigtime;
using namespace jigtime::sync;
using test::add_blow;

namespace {

constexpr double seconds = 60;
constexpr double later = 4.2;     // the second clip begins
constexpr double masking = 0.15;  // noise that hides single blows

using Samples = std::vector<float>;

Samples noise(std::uint64_t number, double level) { return test::noise(seconds, number, level); }

/// A blow every few seconds.
void work(Samples& sound, double after, std::uint64_t number, double level = 0.3) {
  test::Dice dice{number};
  for (double t = 1; t < seconds; t += dice.uniform(2.5, 4)) add_blow(sound, t + after, level, dice.number());
}

/// Something that goes on all the time.
void song(Samples& sound, double after, double level) {
  test::Dice dice{99};
  const auto first = static_cast<std::ptrdiff_t>(after * sample_rate_hz);
  for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(2 * seconds * sample_rate_hz); ++i) {
    const auto value = static_cast<float>(level * dice.normal());
    if (first + i >= 0 && first + i < std::ssize(sound)) sound[static_cast<std::size_t>(first + i)] += value;
  }
}

LoudHalf heard(const Samples& a, const Samples& b) {
  const test::MemorySound sound_a{a}, sound_b{b};
  const Hearing hear_a{&sound_a}, hear_b{&sound_b};
  FineMatcher matcher{sample_rate_hz, 0.25};
  Segment segment;
  segment.from = later + 2;
  segment.to = seconds - 2;
  segment.fit.line = {20, -later, 0};
  return loud_half(hear_a, hear_b, {later, seconds}, {&segment, 1}, matcher);
}

int agreeing(const LoudHalf& half, LoudHalf::Part LoudHalf::Run::*part) {
  return std::accumulate(half.runs.begin(), half.runs.end(), 0,
                         [&](int sum, const LoudHalf::Run& run) { return sum + (run.*part).agree; });
}

LoudHalf by_windows(std::vector<LoudHalf::Run> runs) {
  LoudHalf half;
  half.runs = std::move(runs);
  for (const LoudHalf::Run& run : half.runs) {
    half.loud.part.windows += run.loud.windows;
    half.loud.part.agree += run.loud.agree;
    half.quiet.part.windows += run.quiet.windows;
    half.quiet.part.agree += run.quiet.agree;
  }
  return half;
}

}  // namespace

TEST_CASE("of one day's work the loud windows agree and the quiet ones do not") {
  Samples a = noise(1, 0.02), b = noise(2, 0.02);
  work(a, 0, 7);
  work(b, -later, 7);
  const LoudHalf half = heard(a, b);
  CHECK(agreeing(half, &LoudHalf::Run::loud) >= 18);
  CHECK(agreeing(half, &LoudHalf::Run::quiet) <= 5);
  CHECK(only_loud_agrees(half));
  SUBCASE("also where both cameras are knocked against all the time") {
    for (double t = 3; t < seconds; t += 9) {
      add_blow(a, t, 0.5, static_cast<std::uint64_t>(10 * t));
      add_blow(b, t + 2.1 - later, 0.5, static_cast<std::uint64_t>(10 * t) + 1);
    }
    CHECK(only_loud_agrees(heard(a, b)));
  }
}

TEST_CASE(
    "blows that noise hides one by one lead by their sum, but are believed only where they are heard to be loud") {
  Samples a = noise(1, masking), b = noise(2, masking);
  work(a, 0, 7);
  work(b, -later, 7);
  const LoudHalf half = heard(a, b);
  CHECK(agreeing(half, &LoudHalf::Run::loud) < 10);
  CHECK(half.loud.backing.z > 9);
  CHECK(half.loud.backing.z > 1.5 * half.quiet.backing.z);
  CHECK(half.contrast < 1);
  CHECK_FALSE(only_loud_agrees(half));
  SUBCASE("nor if what is quiet leans to the line as well, as a song does") {
    song(a, 0, 0.06);
    song(b, -later, 0.06);
    const LoudHalf two_days = heard(a, b);
    CHECK(two_days.quiet.backing.z > 9);
    CHECK_FALSE(only_loud_agrees(two_days));
  }
}

TEST_CASE("a song under the work of two days agrees where it is quiet") {
  Samples a = noise(1, 0.02), b = noise(2, 0.02);
  work(a, 0, 7);
  work(b, 0, 8);
  song(a, 0, 0.01);
  song(b, -later, 0.01);
  const LoudHalf half = heard(a, b);
  CHECK(agreeing(half, &LoudHalf::Run::quiet) >= 12);
  CHECK_FALSE(only_loud_agrees(half));
}

TEST_CASE("a song that is loud while it is played is no work: its own quiet moments agree too") {
  Samples a = noise(1, 0.005), b = noise(2, 0.005);
  song(a, 0, 0.05);
  song(b, -later, 0.05);
  std::fill(a.begin() + 30 * sample_rate_hz, a.end(), 0.0f);
  const Samples rest_a = noise(3, 0.005);
  std::copy(rest_a.begin() + 30 * sample_rate_hz, rest_a.end(), a.begin() + 30 * sample_rate_hz);
  const LoudHalf half = heard(a, b);
  CHECK(agreeing(half, &LoudHalf::Run::loud) >= 8);
  CHECK_FALSE(only_loud_agrees(half));
}

TEST_CASE("a loud jingle that begins and ends within what two clips share is no work") {
  Samples a = noise(1, 0.01), b = noise(2, 0.01);
  Samples jingle_a(a.size()), jingle_b(b.size());
  song(jingle_a, 0, 0.1);
  song(jingle_b, -later, 0.1);
  for (auto n = static_cast<std::size_t>(10.3 * sample_rate_hz); n < static_cast<std::size_t>(24.8 * sample_rate_hz);
       ++n) {
    a[n] += jingle_a[n];
    b[n - static_cast<std::size_t>(later * sample_rate_hz)] +=
        jingle_b[n - static_cast<std::size_t>(later * sample_rate_hz)];
  }
  const LoudHalf half = heard(a, b);
  CHECK(agreeing(half, &LoudHalf::Run::loud) >= 8);
  CHECK_FALSE(only_loud_agrees(half));
}

TEST_CASE("what is loud must agree in at least half of the time") {
  const LoudHalf::Run agrees{{6, 6}, {6, 0}, 0}, says_nothing{{6, 0}, {6, 0}, 0};
  CHECK(only_loud_agrees(by_windows({agrees, says_nothing, agrees, says_nothing})));
  CHECK_FALSE(only_loud_agrees(by_windows({agrees, says_nothing, says_nothing, agrees, says_nothing})));
}

TEST_CASE(
    "a sum of what is loud counts if it leads that of the quiet, in half of the time and without the best of it") {
  const LoudHalf::Run leads{{6, 0}, {6, 0}, 12}, luck{{6, 0}, {6, 0}, 3};
  const auto half = [&](double loud, double rest, double quiet, std::vector<LoudHalf::Run> runs) {
    LoudHalf sums = by_windows(std::move(runs));
    sums.contrast = 3;
    sums.loud.backing.z = loud;
    sums.loud.backing.rival_z = 4;
    sums.loud.backing.rest_z = rest;
    sums.quiet.backing.z = quiet;
    return sums;
  };
  CHECK(only_loud_agrees(half(14, 8, 6, {leads, luck, leads, luck})));
  CHECK_FALSE(only_loud_agrees(half(14, 8, 6, {leads, luck, luck, leads, luck})));
  CHECK_FALSE(only_loud_agrees(half(14, 4, 6, {leads, luck, leads, luck})));
  CHECK_FALSE(only_loud_agrees(half(12.2, 8, 8.2, {leads, leads, leads, leads})));  // as a song on two days had it
  CHECK_FALSE(only_loud_agrees(half(24.4, 20, 16.9, {leads, leads, leads, leads})));
}

TEST_CASE("what is loud in both clips counts, whatever else is loud in one") {
  const LoudHalf::Run leads{{6, 0}, {6, 0}, 12};
  const auto half = [&](double in_both, double quiet_in_both, int quiet_windows) {
    LoudHalf sums = by_windows({leads, leads, leads, leads});
    sums.contrast = 3;
    sums.loud_in_both.part.windows = 16;
    sums.loud_in_both.backing = {.line = {}, .z = in_both, .rival_z = 4, .rest_z = in_both / 2, .sign = 1};
    sums.quiet_in_both.part.windows = quiet_windows;
    sums.quiet_in_both.backing.z = quiet_in_both;
    return sums;
  };
  CHECK(only_loud_agrees(half(16, 8, 16)));
  CHECK_FALSE(only_loud_agrees(half(9, 2, 16)));
  CHECK_FALSE(only_loud_agrees(half(16, 12.5, 16)));  // 1.28 times as much: as a song on two days had it
  CHECK_FALSE(only_loud_agrees(half(16, 8, 4)));
  LoudHalf hardly_louder = half(16, 8, 16);
  hardly_louder.contrast = 0.5;
  CHECK_FALSE(only_loud_agrees(hardly_louder));
  LoudHalf clear_when_quiet = half(16, 8, 16);
  clear_when_quiet.quiet_in_both.part.agree = 4;
  CHECK_FALSE(only_loud_agrees(clear_when_quiet));
}

TEST_CASE("bursts of a hum on two days prove nothing, though they come at about the same time") {
  Samples a = noise(1, 0.02), b = noise(2, 0.02);
  test::Dice dice{5};
  const auto add_burst = [&](Samples& sound, double at) {
    double turn = dice.uniform(0, 1);
    for (int i = 0; i < 3 * sample_rate_hz / 2; ++i, turn += 97.0 / sample_rate_hz) {
      const auto n = static_cast<std::ptrdiff_t>(at * sample_rate_hz) + i;
      if (n < 0 || n >= std::ssize(sound)) continue;
      sound[static_cast<std::size_t>(n)] += static_cast<float>(0.3 * (turn - std::floor(turn) - 0.5));
    }
  };
  for (double t = 1; t < seconds - 2; t += 4) {
    add_burst(a, t);
    add_burst(b, t - later + dice.uniform(-0.1, 0.1));
  }
  CHECK_FALSE(only_loud_agrees(heard(a, b)));
}

TEST_CASE("a few blows that both heard prove nothing") {
  Samples a = noise(1, 0.02), b = noise(2, 0.02);
  for (const double t : {10.0, 30.0, 50.0}) {
    add_blow(a, t, 0.3, 5);
    add_blow(b, t - later, 0.3, 5);
  }
  CHECK_FALSE(only_loud_agrees(heard(a, b)));
}

TEST_CASE("silence and too little sound have nothing to say") {
  const LoudHalf silent = heard(Samples(60 * sample_rate_hz), noise(2, 0.02));
  CHECK(agreeing(silent, &LoudHalf::Run::loud) == 0);
  CHECK_FALSE(only_loud_agrees(silent));
  CHECK_FALSE(only_loud_agrees({}));
  const test::MemorySound sound{noise(1, 0.02)};
  const Hearing hearing{&sound};
  FineMatcher matcher{sample_rate_hz, 0.25};
  const Segment segment;
  CHECK_FALSE(only_loud_agrees(loud_half(hearing, hearing, {5, 5.4}, {&segment, 1}, matcher)));
}

TEST_CASE("a few quiet windows agree by luck, but no more than that") {
  const auto half = [](int loud, int quiet) {
    const LoudHalf::Run run{{24, loud}, {24, quiet}, 0};
    return by_windows({run, run});
  };
  CHECK(only_loud_agrees(half(7, 2)));        // 4 of 48 are little more than luck makes agree
  CHECK_FALSE(only_loud_agrees(half(7, 3)));  // as a song on two days had it
  CHECK_FALSE(only_loud_agrees(half(12, 6)));
  CHECK(only_loud_agrees(half(24, 6)));
  CHECK_FALSE(only_loud_agrees(half(24, 8)));
}
