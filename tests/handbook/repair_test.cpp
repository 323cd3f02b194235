#include "handbook/repair.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::handbook;

// MIL-R-47196A 3.4.3 as restated elsewhere: 20 % of the rivets or 10, the smaller.
TEST_CASE("a fifth of the rivets may go oversize, ten at most") {
  const std::pair<int, int> rows[] = {{0, 0},  {4, 0},  {5, 1},   {10, 2},  {12, 2},  {30, 6},
                                      {48, 9}, {49, 9}, {50, 10}, {72, 10}, {128, 10}};
  for (const auto& [rivets, limit] : rows) {
    CAPTURE(rivets);
    CHECK(oversize_limit(rivets) == limit);
  }
}

// MIL-R-47196A as restated elsewhere: at most 1/32 step up to 1/4 in, 1/16 above.
TEST_CASE("the next larger rivet is a thirty-second more up to a quarter inch, a sixteenth above") {
  CHECK(next_larger_32nds(3) == 4);
  CHECK(next_larger_32nds(7) == 8);
  CHECK(next_larger_32nds(8) == 10);
  CHECK(next_larger_32nds(10) == 12);
}

// FAA AC 43.13-1B, 4-57b (seen).
TEST_CASE("2117 replaces 2017 and 2024 one size larger as far as the rule reaches") {
  const auto d4 = replacement_for("D", 4);
  REQUIRE(d4.ok());
  REQUIRE(d4->has_value());
  CHECK((*d4)->letters == "AD");
  CHECK((*d4)->diameter_32nds == 5);
  const auto dd5 = replacement_for("DD", 5);
  REQUIRE(dd5->has_value());
  CHECK((*dd5)->diameter_32nds == 6);
  CHECK((*dd5)->note.empty());
}

TEST_CASE("where the rule asks for an unusual size it says so and does not jump to another") {
  const auto d6 = replacement_for("D", 6);
  REQUIRE(d6->has_value());
  CHECK((*d6)->diameter_32nds == 7);
  CHECK((*d6)->note.find("no usual stock size") != std::string::npos);
}

TEST_CASE("beyond the rule there is no replacement, and for other rivets there is no rule") {
  CHECK_FALSE(replacement_for("DD", 6)->has_value());
  CHECK_FALSE(replacement_for("D", 8)->has_value());
  CHECK_FALSE(replacement_for("D", 0)->has_value());
  CHECK_FALSE(replacement_for("AD", 4).ok());
  CHECK_FALSE(replacement_for("", 4).ok());
}
