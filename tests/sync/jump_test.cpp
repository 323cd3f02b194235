#include "sync/jump.h"

#include <doctest/doctest.h>

#include <cmath>

#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

namespace {

/// Two clips of one minute of a busy shop; `loser` lost time at `at` (its own clip seconds).
struct Jumped {
  Jumped(bool a_lost, double at, double lost) {
    const Shop shop = make_shop({.number = 31, .seconds = 90, .every = 1.5});
    Take loser{.start = 5, .seconds = 60, .number = 1};
    loser.losses.push_back({at, lost});
    const Take other{.start = 2, .seconds = 80, .number = 2};
    takes[0] = a_lost ? loser : other;
    takes[1] = a_lost ? other : loser;
    for (std::size_t i : {0U, 1U}) sounds.push_back(std::make_unique<MemorySound>(record(shop, takes[i])));
    const double before_lag = takes[0].start - takes[1].start;
    const double after_lag = before_lag + (a_lost ? lost : -lost);
    // The true jump on a's time, both ends known to no better than ten seconds.
    truth = a_lost ? at : at - before_lag;
    first = piece(truth - 30 > 0 ? truth - 30 : 1, truth - 10, before_lag);
    second = piece(truth + 10, truth + 24, after_lag);
  }

  static Segment piece(double from, double to, double lag) {
    Segment segment;
    segment.from = from;
    segment.to = to;
    segment.fit.line = {from, lag, 0};
    return segment;
  }

  Take takes[2];
  std::vector<std::unique_ptr<MemorySound>> sounds;
  double truth = 0;
  Segment first, second;
};

}  // namespace

TEST_CASE("a jump known to twenty seconds is placed to within one, whichever clip lost the time") {
  for (const bool a_lost : {true, false}) {
    for (const double lost : {0.4, 3.0}) {
      CAPTURE(a_lost);
      CAPTURE(lost);
      Jumped jumped{a_lost, 32, lost};
      FineMatcher matcher{16000, 1.0};
      const Hearing a{jumped.sounds[0].get()}, b{jumped.sounds[1].get()};
      narrow_jump(matcher, a, b, jumped.first, jumped.second);
      CHECK(std::abs(jumped.first.to - jumped.truth) < 1);
      // Where a lost nothing it goes on through what b lost.
      CHECK(std::abs(jumped.second.from - jumped.truth - (a_lost ? 0 : lost)) < 1);
      CHECK(jumped.second.from >= jumped.first.to - 1e-9);
      CHECK(jumped.second.loose <= 1);
    }
  }
}

TEST_CASE("in silence the middle of what is left open is taken") {
  const MemorySound silent_a{std::vector<float>(60 * sample_rate_hz)},
      silent_b{std::vector<float>(60 * sample_rate_hz)};
  const Hearing a{&silent_a}, b{&silent_b};
  Segment first = Jumped::piece(5, 20, 0), second = Jumped::piece(40, 50, 0.4);
  FineMatcher matcher{16000, 1.0};
  narrow_jump(matcher, a, b, first, second);
  CHECK(std::abs(first.to - 30) < 1.5);
  CHECK(first.to == second.from);
  CHECK(second.loose > 9);  // from 20 to 40, and a window on either side
}
