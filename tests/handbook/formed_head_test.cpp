#include "handbook/formed_head.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <tuple>

using namespace jigtime::handbook;

namespace {

const HeadBand* band(const std::vector<HeadBand>& bands, std::string_view start) {
  const auto at = std::find_if(bands.begin(), bands.end(), [&](const HeadBand& b) { return b.rule.find(start) == 0; });
  return at == bands.end() ? nullptr : &*at;
}

}  // namespace

TEST_CASE("the bands of a size are all named and none is chosen") {
  const auto bands = formed_heads_for(4);
  CHECK(bands.size() == 4);
  // Canadian course note (as quoted): 1/8 in, .160-.210 wide, .040-.080 high.
  const HeadBand* acceptance = band(bands, "acceptance band");
  REQUIRE(acceptance != nullptr);
  CHECK(acceptance->diameter_min_in == doctest::Approx(0.160));
  CHECK(acceptance->height_max_in == doctest::Approx(0.080));
}

// A 1940s fighter repair handbook, section 14 (seen): 1/8 .188 by .063, 5/32 .234 by .078, 3/16 .281 by .093.
TEST_CASE("the customary head agrees with the sizes an older handbook prints") {
  const std::tuple<int, double, double> printed[] = {{4, 0.188, 0.063}, {5, 0.234, 0.078}, {6, 0.281, 0.093}};
  for (const auto& [diameter, wide, high] : printed) {
    const auto bands = formed_heads_for(diameter);
    const HeadBand* customary = band(bands, "customary");
    REQUIRE(customary != nullptr);
    CHECK(std::abs(customary->diameter_min_in - wide) < 0.001);
    CHECK(std::abs(customary->height_min_in - high) < 0.001);
  }
}

// MIL-HDBK-5H 8.1.2 (seen) gives 1.3 D = .1219 for 3/32, MIL-R-47196A (as quoted) .122.
TEST_CASE("two published minimums for 3/32 agree with each other") {
  const auto bands = formed_heads_for(3);
  const HeadBand* least = band(bands, "least: 1.3 D");
  const HeadBand* limits = band(bands, "limits for 3/32");
  REQUIRE(least != nullptr);
  REQUIRE(limits != nullptr);
  CHECK(std::abs(least->diameter_min_in - limits->diameter_min_in) < 0.0005);
  CHECK(band(formed_heads_for(4), "limits for 3/32") == nullptr);
}

TEST_CASE("where a rule sets no upper bound none is made up, and bounds are in order") {
  for (const int diameter : {2, 3, 4, 5, 6, 7, 8, 10, 12}) {
    for (const HeadBand& b : formed_heads_for(diameter)) {
      if (b.diameter_max_in > 0) CHECK(b.diameter_min_in <= b.diameter_max_in);
      if (b.height_max_in > 0) CHECK(b.height_min_in <= b.height_max_in);
      CHECK(b.diameter_min_in > diameter / 32.0);
    }
  }
  CHECK(band(formed_heads_for(7), "acceptance band") == nullptr);
}

TEST_CASE("a diameter that is no rivet's gives nothing") {
  CHECK(formed_heads_for(1).empty());
  CHECK(formed_heads_for(13).empty());
  CHECK(formed_heads_for(-3).empty());
}

// Canadian course note (as quoted): every size of its table.
TEST_CASE("the acceptance bands are those of the course note in every size") {
  const std::tuple<int, double, double, double, double> printed[] = {
      {2, .080, .110, .020, .040},  {3, .120, .160, .030, .060},  {4, .160, .210, .040, .080},
      {5, .200, .270, .050, .100},  {6, .240, .320, .060, .120},  {8, .330, .430, .080, .170},
      {10, .410, .530, .110, .210}, {12, .490, .640, .120, .250},
  };
  for (const auto& [diameter, wide_min, wide_max, high_min, high_max] : printed) {
    const auto bands = formed_heads_for(diameter);
    const HeadBand* acceptance = band(bands, "acceptance band");
    REQUIRE(acceptance != nullptr);
    CHECK(acceptance->diameter_min_in == doctest::Approx(wide_min));
    CHECK(acceptance->diameter_max_in == doctest::Approx(wide_max));
    CHECK(acceptance->height_min_in == doctest::Approx(high_min));
    CHECK(acceptance->height_max_in == doctest::Approx(high_max));
  }
}

// Arithmetic on 0.3 D, 0.5 D, 1.3 D, 1.4 D and 1.5 D, worked once outside and rounded to four places.
TEST_CASE("the multiples of the diameter are right in every usual size") {
  const std::tuple<int, double, double, double, double, double> multiples[] = {
      {3, .0281, .0469, .1219, .1312, .1406}, {4, .0375, .0625, .1625, .1750, .1875},
      {5, .0469, .0781, .2031, .2188, .2344}, {6, .0562, .0938, .2438, .2625, .2812},
      {8, .0750, .1250, .3250, .3500, .3750},
  };
  for (const auto& [diameter, d03, d05, d13, d14, d15] : multiples) {
    const auto bands = formed_heads_for(diameter);
    CHECK(std::abs(band(bands, "least: 1.3 D")->height_min_in - d03) < 6e-5);
    CHECK(std::abs(band(bands, "customary")->height_min_in - d05) < 6e-5);
    CHECK(std::abs(band(bands, "least: 1.3 D")->diameter_min_in - d13) < 6e-5);
    CHECK(std::abs(band(bands, "least for 7050")->diameter_min_in - d14) < 6e-5);
    CHECK(std::abs(band(bands, "customary")->diameter_min_in - d15) < 6e-5);
  }
}
