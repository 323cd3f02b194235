#include <doctest/doctest.h>

#include "bench/scenes.h"
#include "bench/trial_runner.h"

using namespace jigtime::bench;

TEST_CASE("clips of six days on which the same song played are not paired") {
  // Sessions in which some were: before songs were known by their bars, and while a piece far from where it was looked
  // for was believed unheard, and while what is loud had to fit only nearly as often as the rest.
  for (const std::uint64_t number : {7061976480759ULL, 12634414092517ULL, 9922171428323ULL}) {
    CAPTURE(number);
    REQUIRE(likeness_of(number) == Likeness::song);
    const Trial trial = make_trial(draw({Scene::unrelated, 0, 0}, number));
    const auto ran = run(trial);
    REQUIRE(ran.ok());
    const Score told = score(trial, ran->result);
    CHECK(told.strangers == 15);
    CHECK(told.strangers_paired == 0);
    CHECK(told.lone_placed == 0);
  }
}

TEST_CASE("a song that goes on under the work is no lean to the line of another day") {
  constexpr std::uint64_t number = 3432309446115;
  REQUIRE(likeness_of(number) == Likeness::song);
  const Trial trial = make_trial(draw({Scene::impostors, 0, 0}, number));
  const auto ran = run(trial);
  REQUIRE(ran.ok());
  const Score told = score(trial, ran->result);
  CHECK(told.strangers == 4);
  CHECK(told.strangers_paired == 0);
}
