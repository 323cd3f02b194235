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

// US Army TM 10-5410-221-14-1, Table 4-3 (seen), written out a second time from the copy: code, grip, length, hole.
TEST_CASE("every row of the printed table is there and no other") {
  const int printed[][7] = {
      {3, 2, 20, 125, 212, 96, 100},   {3, 4, 126, 250, 337, 96, 100},  {4, 1, 20, 62, 170, 128, 132},
      {4, 2, 63, 125, 232, 128, 132},  {4, 3, 126, 187, 294, 128, 132}, {4, 4, 188, 250, 357, 128, 132},
      {4, 5, 251, 312, 419, 128, 132}, {4, 6, 313, 375, 481, 128, 132}, {4, 8, 376, 500, 628, 128, 132},
      {5, 2, 20, 125, 254, 160, 164},  {5, 4, 188, 250, 379, 160, 164}, {5, 6, 251, 375, 504, 160, 164},
      {8, 6, 251, 375, 572, 257, 261}, {8, 8, 376, 500, 697, 257, 261}, {8, 12, 626, 750, 947, 257, 261}};
  CHECK(all_blind_sizes().size() == std::size(printed));
  for (const auto& row : printed) {
    const BlindSize* size = find_blind_size(row[0], row[1]);
    CAPTURE(row[0]);
    CAPTURE(row[1]);
    REQUIRE(size != nullptr);
    CHECK(size->grip_min_mil == row[2]);
    CHECK(size->grip_max_mil == row[3]);
    CHECK(size->length_mil == row[4]);
    CHECK(size->hole_min_mil == row[5]);
    CHECK(size->hole_max_mil == row[6]);
  }
}

TEST_CASE("what holds for every blind rivet is a sentence with its source") {
  CHECK(blind_notes().size() == 4);
  for (const BlindNote& note : blind_notes()) {
    CHECK(note.text.back() == '.');
    CHECK_FALSE(note.source.name.empty());
  }
}
