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

/// A blow now and then, each in another place of the shop, up to four metres nearer to one microphone.
void work_all_over(Samples& a, Samples& b) {
  test::Dice dice{11};
  const double length = static_cast<double>(a.size()) / sample_rate_hz;
  for (double t = 1; t < length + later; t += dice.uniform(20, 40)) {
    const double off = dice.uniform(-0.012, 0.012);
    const std::uint64_t number = dice.number();
    add_blow(a, t, 0.5, number);
    add_blow(b, t - later + off, 0.5, number);
  }
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

PairMatch compared_at(const Samples& a, const Samples& b, const std::vector<Candidate>& candidates,
                      PairMatcher::Known known = PairMatcher::Known::nothing) {
  const test::MemorySound sound_a{a}, sound_b{b};
  const Features of_a = test::features_of(a), of_b = test::features_of(b);
  const Frames frames_a{of_a}, frames_b{of_b};
  const Hearing hear_a{&sound_a}, hear_b{&sound_b};
  const double length_a = static_cast<double>(a.size()) / sample_rate_hz;
  const double length_b = static_cast<double>(b.size()) / sample_rate_hz;
  PairMatcher matcher;
  return matcher.match({&frames_a, &hear_a, 0, length_a}, {&frames_b, &hear_b, 0, length_b}, candidates, {}, known);
}

/// Two clips compared where they belong together by the work, and a bar beside.
PairMatch compared(const Samples& a, const Samples& b, PairMatcher::Known known = PairMatcher::Known::nothing) {
  std::vector<Candidate> candidates;
  for (const double lag : {-later + bar, -later}) {
    candidates.push_back({{seconds / 2, lag, 0}, 1e-5, 0, seconds, 30, 1});
  }
  return compared_at(a, b, candidates, known);
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

TEST_CASE("half of what two clips share is proven where a loss in the midst makes the line of all askew") {
  constexpr double length = 1200, lost = 0.11;
  Samples a = test::noise(length, 1, 0.2), b = test::noise(length + 1, 2, 0.2);
  work_all_over(a, b);
  // b did not record 0.11 s.
  const auto at = static_cast<std::ptrdiff_t>((length / 2 - later) * sample_rate_hz);
  b.erase(b.begin() + at, b.begin() + at + static_cast<std::ptrdiff_t>(lost * sample_rate_hz));
  const Line askew{length / 2, -later - lost / 2, -lost / length};
  const PairMatch match = compared_at(a, b, {{askew, 1e-5, 0, length, 30, 4}});
  REQUIRE(match.segments.size() == 2);
  CHECK(std::abs(match.segments[0].fit.line(300) + later) < 0.008);
  CHECK(std::abs(match.segments[1].fit.line(900) + later + lost) < 0.008);
}

TEST_CASE(
    "what goes on without blows may be half a turn beside where other places sound as good to the coarse search") {
  Samples a = test::noise(seconds, 1, 0.003), b = test::noise(seconds, 2, 0.003);
  song(a, 0, 0.05, 0);
  song(b, -later, 0.05, 0);
  const PairMatch match = compared(a, b, PairMatcher::Known::by_clocks);
  REQUIRE(match.segments.size() == 1);
  CHECK(match.segments[0].doubt >= 0.045);
  const std::vector<Candidate> only{{{seconds / 2, -later, 0}, 1e-5, 0, seconds, 30, 1}};
  const PairMatch clear = compared_at(a, b, only, PairMatcher::Known::by_clocks);
  REQUIRE(clear.segments.size() == 1);
  CHECK(clear.segments[0].doubt == 0);
  // Blows are heard alike everywhere.
  Samples work_a = test::noise(seconds, 1, 0.003), work_b = test::noise(seconds, 2, 0.003);
  work(work_a, 0, 7);
  work(work_b, -later, 7);
  const PairMatch with_work = compared(work_a, work_b, PairMatcher::Known::by_clocks);
  REQUIRE(with_work.segments.size() == 1);
  CHECK(with_work.segments[0].doubt == 0);
}
