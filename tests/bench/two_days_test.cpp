#include <doctest/doctest.h>

#include "bench/scenes.h"
#include "bench/trial_runner.h"

using namespace jigtime::bench;

TEST_CASE("clips of six days on which the same song played are not paired") {
  // Sessions in which some were: before songs were known by their bars, and while a piece far from where it was looked
  // for was believed unheard.
  for (const std::uint64_t number : {7061976480759ULL, 12634414092517ULL}) {
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
