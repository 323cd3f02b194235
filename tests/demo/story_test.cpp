#include "demo/story.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace jigtime::demo;

TEST_CASE("the same plan tells the same story twice") {
  const Scenario scenario = make_scenario(Size::quick);
  const Story one = tell(scenario);
  const Story other = tell(scenario);
  REQUIRE(one.sounds.size() == other.sounds.size());
  for (std::size_t i = 0; i < one.sounds.size(); ++i) {
    CHECK(one.sounds[i].begin == other.sounds[i].begin);
    CHECK(one.sounds[i].seed == other.sounds[i].seed);
  }
}

TEST_CASE("rivets take one to three seconds of gun time at the rate of a slow-hitting gun") {
  for (const Rivet& rivet : tell(make_scenario(Size::full)).rivets) {
    CHECK(rivet.bursts.size() >= 2);  // a rivet is driven in several short bursts
    for (const Burst& burst : rivet.bursts) {
      CHECK(burst.end - burst.begin > 0.3);
      CHECK(burst.end - burst.begin < 1.0);
      const double rate = static_cast<double>(burst.blows.size() - 1) / (burst.end - burst.begin);
      // 1,500 to 2,500 blows a minute: a maker's range for builders' guns, some way inside 15 to 41.7 Hz.
      CHECK(rate > 25);
      CHECK(rate < 42);
    }
  }
}

TEST_CASE("the gun's lamp is lit once for each burst, from its first blow to its last") {
  const Story story = tell(make_scenario(Size::quick));
  std::size_t bursts = 0;
  for (const Rivet& rivet : story.rivets) {
    for (const Burst& burst : rivet.bursts) {
      REQUIRE(bursts < story.lamp.size());
      CHECK(story.lamp[bursts].begin == burst.begin);
      CHECK(story.lamp[bursts].end == burst.end);
      ++bursts;
    }
  }
  CHECK(bursts == story.lamp.size());
}

TEST_CASE("nothing but the fan sounds while both drink tea") {
  for (const Size size : {Size::full, Size::quick}) {
    const Scenario scenario = make_scenario(size);
    const auto away = std::ranges::find(scenario.phases, Activity::away, &Phase::activity);
    REQUIRE(away != scenario.phases.end());
    for (const SoundEvent& event : tell(scenario).sounds) {
      if (event.kind == SoundKind::fan) continue;
      const bool outside = event.begin + event.length <= away->begin || event.begin >= away->end;
      CHECK_MESSAGE(outside, "an event at " << event.begin);
    }
  }
}

TEST_CASE("the fan never stops") {
  const Scenario scenario = make_scenario(Size::quick);
  Seconds covered = 0;
  for (const SoundEvent& event : tell(scenario).sounds) {
    if (event.kind != SoundKind::fan) continue;
    CHECK(event.begin <= covered);
    covered = event.begin + event.length;
  }
  CHECK(covered > scenario.length);
}

TEST_CASE("one rivet is drilled out and set again, all others are set once") {
  const Story story = tell(make_scenario(Size::full));
  std::set<int> holes;
  for (const Rivet& rivet : story.rivets) holes.insert(rivet.hole);
  CHECK(holes.size() + 1 == story.rivets.size());
  CHECK(story.drilled_one_set_at < story.drilled_out_at);
  CHECK(story.rivets.back().set_at > story.drilled_out_at);
  CHECK(holes.contains(story.rivets.back().hole));
}

TEST_CASE("hands do one thing at a time") {
  for (const Size size : {Size::full, Size::quick}) {
    const Story story = tell(make_scenario(size));
    for (const auto* acts : {&story.builder, &story.helper}) {
      for (std::size_t i = 1; i < acts->size(); ++i) CHECK((*acts)[i - 1].end <= (*acts)[i].begin + 1e-9);
    }
  }
}

TEST_CASE("rivets set in a stretch are counted from its beginning up to, not including, its end") {
  Story story;
  for (const Seconds at : {1.0, 2.0, 3.0}) story.rivets.push_back({0, {}, at});
  CHECK(story.set_within(1, 3) == 2);
  CHECK(story.set_within(3, 3) == 0);
  CHECK(story.set_within(4, 1) == 0);
}
