#include "handbook/holes.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "handbook/blind_sizes.h"

using namespace jigtime::handbook;

// Number and letter drills in ten-thousandths of an inch: ANSI/ASME B94.11M sizes, from memory, not checked.
TEST_CASE("a row that names a drill and one size agrees with the size of that drill") {
  const std::pair<std::string_view, int> drills[] = {
      {"#51", 670},  {"#52", 635},  {"#40", 980},  {"#41", 960},  {"#37", 1040}, {"#30", 1285}, {"#21", 1590},
      {"#22", 1570}, {"#20", 1610}, {"#11", 1910}, {"#12", 1890}, {"F", 2570},   {"1/4", 2500}};
  for (const HoleRow& row : all_holes()) {
    if (row.drill.empty()) continue;
    const auto drill =
        std::find_if(std::begin(drills), std::end(drills), [&](const auto& d) { return d.first == row.drill; });
    CAPTURE(row.drill);
    REQUIRE(drill != std::end(drills));
    CHECK(drill->second >= row.hole_min);
    CHECK(drill->second <= row.hole_max);
  }
}

TEST_CASE("all tables are returned for a size, old and new, each with its source") {
  const auto rows = holes_for(3);
  REQUIRE(rows.size() == 5);
  CHECK(rows[0].drill == "#40");
  CHECK(rows[0].source.seen == Seen::memory);
  CHECK(rows[1].drill == "#41");
  CHECK(rows[1].source.seen == Seen::seen);
}

// Worked case from a builders' forum (as quoted): a #37 drill, .104, is a no-go gauge for the .103 limit.
TEST_CASE("the no-go drill is larger than the limit it checks") {
  const auto rows = holes_for(3);
  CHECK(rows[3].hole_min > rows[2].hole_max);
}

TEST_CASE("the blind rows agree with the blind rivets' own table") {
  for (const BlindSize& size : all_blind_sizes()) {
    const auto rows = holes_for(size.diameter_32nds);
    const auto blind =
        std::find_if(rows.begin(), rows.end(), [](const HoleRow& r) { return r.what.find("blind") == 0; });
    REQUIRE(blind != rows.end());
    CHECK(blind->hole_min == size.hole_min_mil * 10);
    CHECK(blind->hole_max == size.hole_max_mil * 10);
    CHECK(blind->drill == size.drill);
  }
}

TEST_CASE("every hole is larger than its rivet, a drill of the rivet's own size excepted") {
  for (const HoleRow& row : all_holes()) {
    CAPTURE(row.what);
    CHECK(row.hole_min <= row.hole_max);
    CHECK(row.hole_max * 32 >= row.diameter_32nds * 10000);
  }
}

TEST_CASE("a size no table has gives nothing") {
  CHECK(holes_for(7).empty());
  CHECK(holes_for(0).empty());
  CHECK(holes_for(-4).empty());
}

// MIL-R-47196A as restated elsewhere: 10 % of the sheet or .032 in, the smaller.
TEST_CASE("the burr chamfer is a tenth of a thin sheet and capped for a thick one") {
  CHECK(largest_chamfer_in(0.040) == doctest::Approx(0.004));
  CHECK(largest_chamfer_in(0.320) == doctest::Approx(0.032));
  CHECK(largest_chamfer_in(0.500) == doctest::Approx(0.032));
  CHECK(hole_rules().size() == 3);
}

// Today's drills: #30 and F seen in an Army manual's blind table, the others from memory. Older drills: a 1940s fighter
// repair handbook, section 16 (seen). Ten-thousandths of an inch.
TEST_CASE("today's and the older drill of each size are those of the tables") {
  struct Row {
    int diameter_32nds;
    const char* today;
    int today_hole;
    const char* older;
    int older_hole;
  };
  const Row rows[] = {{2, "#51", 670, "#52", 635},   {3, "#40", 980, "#41", 960},   {4, "#30", 1285, "#30", 1285},
                      {5, "#21", 1590, "#22", 1570}, {6, "#11", 1910, "#12", 1890}, {8, "F", 2570, "1/4", 2500}};
  for (const Row& row : rows) {
    const auto found = holes_for(row.diameter_32nds);
    REQUIRE(found.size() >= 2);
    CHECK(found[0].drill == row.today);
    CHECK(found[0].hole_min == row.today_hole);
    CHECK(found[1].drill == row.older);
    CHECK(found[1].hole_min == row.older_hole);
  }
}
