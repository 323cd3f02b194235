#include "handbook/spacing.h"

#include <doctest/doctest.h>

#include <limits>

using namespace jigtime;
using namespace jigtime::handbook;

// Worked by hand from edge 2 D (US Army TM 10-5410-229-13&P, 5-6, seen) and pitch 3 D to 8 D (US Navy 14018, seen):
// 1/8 rivets in 12 in; 11.5 in between the ends; 12 spaces of .958 to 30 spaces of .383.
TEST_CASE("a strip of twelve inches takes 13 to 31 rivets of one eighth") {
  const auto count = rivets_in_strip({12.0, 0.25, 0.375, 1.0});
  REQUIRE(count.ok());
  CHECK(count->fewest == 13);
  CHECK(count->fewest_pitch_in == doctest::Approx(0.958).epsilon(0.001));
  CHECK(count->most == 31);
  CHECK(count->most_pitch_in == doctest::Approx(0.383).epsilon(0.001));
}

TEST_CASE("a pitch that divides the strip exactly is not lost to arithmetic") {
  const auto count = rivets_in_strip({0.5 + 0.1 * 30, 0.25, 0.1, 0.1});
  REQUIRE(count.ok());
  CHECK(count->fewest == 31);
  CHECK(count->most == 31);
}

TEST_CASE("the even pitch always lies within the bounds asked for") {
  for (double strip = 1.0; strip < 40; strip += 0.37) {
    const auto count = rivets_in_strip({strip, 0.25, 0.375, 1.0});
    if (!count.ok()) continue;
    CHECK(count->fewest_pitch_in <= 1.0 + 1e-5);
    CHECK(count->most_pitch_in >= 0.375 - 1e-5);
    CHECK(count->fewest <= count->most);
  }
}

TEST_CASE("a layout that is none is refused with what to change") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const StripLayout layouts[] = {{0.4, 0.25, 0.375, 1.0}, {12, 0, 0.375, 1},     {12, 0.25, 0, 1},
                                 {12, 0.25, 1, 0.5},      {-12, 0.25, 0.375, 1}, {nan, 0.25, 0.375, 1},
                                 {12, nan, 0.375, 1},     {1e30, 0.25, 0.375, 1}};
  for (const StripLayout& layout : layouts) {
    const auto count = rivets_in_strip(layout);
    REQUIRE_FALSE(count.ok());
    CHECK(count.error().code() == Code::invalid);
  }
  const auto narrow = rivets_in_strip({2.0, 0.25, 1.0, 1.2});
  REQUIRE_FALSE(narrow.ok());
  CHECK(narrow.error().message().find("No even pitch") == 0);
}

TEST_CASE("published ranges that differ are all there: pitch up to 4, 6, 8, 10 and 12 diameters, edge 2 and 2.5") {
  int pitches = 0;
  bool flush = false;
  for (const SpacingRule& rule : spacing_rules()) {
    if (rule.what == Distance::pitch && rule.most_diameters > 0) ++pitches;
    if (rule.what == Distance::edge && rule.when == "flush head") flush = rule.least_diameters > 2.4;
    CHECK((rule.least_diameters > 0 || rule.most_diameters > 0));
    CHECK_FALSE(to_text(rule.source).empty());
  }
  CHECK(pitches == 5);
  CHECK(flush);
}
