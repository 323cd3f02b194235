#include "handbook/diameter.h"

#include <doctest/doctest.h>

#include <limits>

#include "handbook/length.h"

using namespace jigtime;
using namespace jigtime::handbook;

// Worked in a tool maker's article (28 Feb 2019, seen): two sheets of .050, 3 * .050 = .150, so a 5/32 rivet, and a
// length of .100 + .234 = .334 in.
TEST_CASE("two sheets of .050 lead to a 5/32 rivet of .334 in, as worked in print") {
  const auto rules = diameters_for_sheet(0.050);
  REQUIRE(rules.ok());
  REQUIRE(rules->size() == 3);
  CHECK((*rules)[0].least_in == doctest::Approx(0.150));
  CHECK((*rules)[0].nearest_32nds == 5);
  CHECK((*rules)[0].next_up_32nds == 5);
  CHECK(lengths_for_grip(0.100, 5)->wanted_in == doctest::Approx(0.334).epsilon(0.001));
}

// FAA AC 43.13-1B, 4-58g (seen): .032 sheet, 3 * .032 = .096, and the worked splice takes 1/8, the next size up, though
// 3/32 is nearer. Both are given and none is chosen.
TEST_CASE("the versions of the rule stand side by side and only the one with a single value names a size") {
  const auto rules = diameters_for_sheet(0.032);
  CHECK((*rules)[0].nearest_32nds == 3);
  CHECK((*rules)[0].next_up_32nds == 4);
  CHECK((*rules)[1].most_in == doctest::Approx(0));
  CHECK((*rules)[1].nearest_32nds == 0);
  CHECK((*rules)[2].least_in == doctest::Approx(0.032));
  CHECK((*rules)[2].most_in == doctest::Approx(0.096));
  for (const DiameterRule& rule : *rules) CHECK_FALSE(rule.source.name.empty());
  CHECK(diameter_notes().size() == 3);
}

TEST_CASE("a sheet too thick for any standard diameter has none above it") {
  CHECK((*diameters_for_sheet(0.2))[0].next_up_32nds == 0);
  CHECK((*diameters_for_sheet(0.125))[0].next_up_32nds == 12);
}

TEST_CASE("a sheet that is none is refused") {
  for (const double sheet : {0.0, -0.04, 0.51, std::numeric_limits<double>::quiet_NaN()}) {
    const auto rules = diameters_for_sheet(sheet);
    REQUIRE_FALSE(rules.ok());
    CHECK(rules.error().code() == Code::invalid);
  }
}
