#include "sync/pair.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "blows.h"

using namespace jigtime;
using namespace jigtime::sync;
using test::add_blow;

namespace {

constexpr double seconds = 75;
constexpr double later = 3.1;  // the second clip begins
constexpr double bar = 15;     // seconds after which a song comes again, note for note

using Samples = std::vector<float>;

/// A blow every few seconds.
void work(Samples& sound, double after, std::uint64_t number) {
  test::Dice dice{number};
  for (double t = 1; t < 2 * seconds; t += dice.uniform(1.5, 3)) add_blow(sound, t + after, 0.5, dice.number());
}

/// Goes on all the time; `again` of its power is the same every bar, note for note.
void song(Samples& sound, double after, double level, double again) {
  test::Dice dice{99};
  Samples notes(static_cast<std::size_t>(bar * sample_rate_hz));
  for (float& note : notes) note = static_cast<float>(level * std::sqrt(again) * dice.normal());
  const auto first = static_cast<std::ptrdiff_t>(after * sample_rate_hz);
  for (std::ptrdiff_t i = std::min<std::ptrdiff_t>(first, 0); i < std::ssize(sound); ++i) {
    const auto own = static_cast<float>(level * std::sqrt(1 - again) * dice.normal());
    if (i < 0) continue;
    sound[static_cast<std::size_t>(i)] += own + notes[static_cast<std::size_t>((i - first) % std::ssize(notes))];
  }
}

/// Two clips compared where they belong together by the work, and a bar beside.
PairMatch compared(const Samples& a, const Samples& b, PairMatcher::Known known = PairMatcher::Known::nothing) {
  const test::MemorySound sound_a{a}, sound_b{b};
  const Features of_a = test::features_of(a), of_b = test::features_of(b);
  const Frames frames_a{of_a}, frames_b{of_b};
  const Hearing hear_a{&sound_a}, hear_b{&sound_b};
  std::vector<Candidate> candidates;
  for (const double lag : {-later + bar, -later}) {
    candidates.push_back({{seconds / 2, lag, 0}, 1e-5, 0, seconds, 30, 1});
  }
  PairMatcher matcher;
  return matcher.match({&frames_a, &hear_a, 0, seconds}, {&frames_b, &hear_b, 0, seconds}, candidates, {}, known);
}

}  // namespace

TEST_CASE("where a song fits a bar later as well, the work tells which place is right") {
  Samples a = test::noise(seconds, 1, 0.003), b = test::noise(seconds, 2, 0.003);
  song(a, 0, 0.02, 1);
  song(b, -later, 0.02, 1);
  work(a, 0, 7);
  work(b, -later, 7);
  const PairMatch match = compared(a, b);
  REQUIRE(match.segments.size() == 1);
  CHECK(std::abs(match.segments[0].fit.line(40) + later) < 0.001);
}

TEST_CASE("a song alone that fits a bar later as well has no place, though all of it agrees") {
  constexpr double again = 0.1;
  Samples a = test::noise(seconds, 1, 0.003), b = test::noise(seconds, 2, 0.003);
  song(a, 0, 0.02, again);
  song(b, -later, 0.02, again);
  CHECK(compared(a, b).segments.empty());
}

TEST_CASE("a song beside other work is doubted, and believed where clocks put it so") {
  Samples a = test::noise(seconds, 1, 0.003), b = test::noise(seconds, 2, 0.003);
  song(a, 0, 0.05, 0);
  song(b, -later, 0.05, 0);
  work(a, 0, 7);
  work(b, -later, 8);
  const PairMatch match = compared(a, b);
  CHECK(match.segments.empty());
  CHECK(match.overlap == 0);
  REQUIRE(match.doubted.size() == 1);
  CHECK(std::abs(match.doubted[0].fit.line(40) + later) < 0.001);
  const PairMatch by_clocks = compared(a, b, PairMatcher::Known::by_clocks);
  REQUIRE(by_clocks.segments.size() == 1);
  CHECK(by_clocks.doubted.empty());
}

TEST_CASE("a song alone that fits a bar later as well has no place, whatever clocks say of the day") {
  Samples a = test::noise(seconds, 1, 0.003), b = test::noise(seconds, 2, 0.003);
  song(a, 0, 0.02, 0.5);
  song(b, -later, 0.02, 0.5);
  CHECK(compared(a, b, PairMatcher::Known::by_clocks).segments.empty());
}
