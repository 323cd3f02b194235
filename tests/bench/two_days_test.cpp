#include <doctest/doctest.h>

#include "bench/scenes.h"
#include "bench/trial_runner.h"

using namespace jigtime::bench;

TEST_CASE("clips of six days on which the same song played are not paired") {
  // A session in which two pairs were, before songs were known by their bars.
  constexpr std::uint64_t number = 7061976480759;
  REQUIRE(likeness_of(number) == Likeness::song);
  const Trial trial = make_trial(draw({Scene::unrelated, 0, 0}, number));
  const auto ran = run(trial);
  REQUIRE(ran.ok());
  const Score told = score(trial, ran->result);
  CHECK(told.strangers == 15);
  CHECK(told.strangers_paired == 0);
  CHECK(told.lone_placed == 0);
}
