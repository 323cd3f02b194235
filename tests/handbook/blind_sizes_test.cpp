#include "handbook/blind_sizes.h"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace jigtime::handbook;

// US Army TM 10-5410-221-14-1, Table 4-3 (seen).
TEST_CASE("rows of the printed table are found by diameter and grip number") {
  const BlindSize* row = find_blind_size(4, 8);
  REQUIRE(row != nullptr);
  CHECK(row->grip_min_mil == 376);  // not 7/16 = 438: there is no grip number 7
  CHECK(row->grip_max_mil == 500);
  CHECK(row->length_mil == 628);
  CHECK(find_blind_size(8, 12)->drill == "F");
}

TEST_CASE("a row the table does not have is not made up") {
  CHECK(find_blind_size(4, 7) == nullptr);
  CHECK(find_blind_size(6, 4) == nullptr);
  CHECK(find_blind_size(0, 0) == nullptr);
}

TEST_CASE("in every row the largest grip is the grip number in sixteenths, and the hole fits the drill's size") {
  for (const BlindSize& row : all_blind_sizes()) {
    CHECK(std::abs(row.grip_max_mil - row.grip_16ths * 62.5) <= 0.5);
    CHECK(row.grip_min_mil < row.grip_max_mil);
    CHECK(row.length_mil > row.grip_max_mil);
    CHECK(row.hole_min_mil < row.hole_max_mil);
    CHECK(row.hole_min_mil > row.diameter_32nds * 31.25);
  }
}
