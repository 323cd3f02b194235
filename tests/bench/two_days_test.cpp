#include <doctest/doctest.h>

#include "bench/scenes.h"
#include "bench/trial_runner.h"

using namespace jigtime::bench;

namespace {

/// Of clips of several days on which the same song played, or the same machines and nothing else.
Score score_of(Scene scene, std::uint64_t number, Likeness likeness = Likeness::song) {
  CAPTURE(number);
  REQUIRE(likeness_of(number) == likeness);
  const Trial trial = make_trial(draw({scene, 0, 0}, number));
  const auto ran = run(trial);
  REQUIRE(ran.ok());
  return score(trial, ran->result);
}

}  // namespace

TEST_CASE("clips of six days on which the same song played are not paired") {
  // Sessions in which some were: before songs were known by their bars, while a piece far from where it was looked for
  // was believed unheard, while what is loud had to fit only nearly as often as the rest, and while a clip that alone
  // had loud work did not count.
  for (const std::uint64_t number : {7061976480759ULL, 12634414092517ULL, 9922171428323ULL, 16952993005499ULL}) {
    CAPTURE(number);
    const Score told = score_of(Scene::unrelated, number);
    CHECK(told.strangers == 15);
    CHECK(told.strangers_paired == 0);
    CHECK(told.lone_placed == 0);
  }
}

TEST_CASE("a song that goes on under the work is no lean to the line of another day") {
  const Score told = score_of(Scene::impostors, 3432309446115ULL);
  CHECK(told.strangers == 4);
  CHECK(told.strangers_paired == 0);
}

TEST_CASE("where little but a song was heard, the place is not some bars away") {
  // Placed 10.8 s beside: the coarse search had heard the place, and the search by the sound itself a bar of the song.
  const Score told = score_of(Scene::impostors, 1250670740023ULL, Likeness::machines_only);
  CHECK(told.wrong == 0);
  CHECK(told.strangers_paired == 0);
}

TEST_CASE("a bar of a song is no loss") {
  const Score told = score_of(Scene::impostors, 11265713540610ULL);
  CHECK(told.instants > 0);
  CHECK(told.dropouts_invented == 0);
  CHECK(told.wrong == 0);
}

TEST_CASE("a loss behind which but one loud event was heard is found") {
  const std::uint64_t number = 10590439029138ULL;  // 35.7 s, a minute before the clip's end
  const Trial trial = make_trial(draw({Scene::dropouts, 10, 0}, number));
  const auto ran = run(trial);
  REQUIRE(ran.ok());
  const Score told = score(trial, ran->result);
  CHECK(told.dropouts == 2);
  CHECK(told.dropouts_near == 2);
  CHECK(told.dropouts_invented == 0);
}
