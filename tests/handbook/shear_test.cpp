#include "handbook/shear.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace jigtime;
using namespace jigtime::handbook;

// F_su * pi/4 * d^2 worked once outside: see the column beside each hole. Listed values are from memory.
TEST_CASE("shear of an AD rivet agrees with the sum done by hand and with the listed value within 0.4 %") {
  const std::pair<double, double> computed[] = {{0.067, 105.8}, {0.096, 217.1},  {0.1285, 389.1}, {0.159, 595.7},
                                                {0.191, 859.6}, {0.257, 1556.2}, {0.323, 2458.2}, {0.386, 3510.6}};
  std::size_t i = 0;
  for (const ShearRow& row : listed_shear()) {
    const auto pounds = single_shear_lb("AD", row.hole_in);
    REQUIRE(pounds.ok());
    CHECK(row.hole_in == doctest::Approx(computed[i].first));
    CHECK(std::abs(*pounds - computed[i].second) < 0.06);
    CHECK(std::abs(*pounds - row.listed_lb) / row.listed_lb < 0.004);
    ++i;
  }
  CHECK(i == 8);
}

TEST_CASE("a material without a strength and a hole that is none are refused") {
  const auto unknown = single_shear_lb("KE", 0.1285);
  REQUIRE_FALSE(unknown.ok());
  CHECK(unknown.error().message().find("the handbook has AD, B, D and DD") != std::string::npos);
  for (const double hole : {0.0, -1.0, 1.0, std::numeric_limits<double>::quiet_NaN()})
    CHECK_FALSE(single_shear_lb("AD", hole).ok());
  CHECK_FALSE(single_shear_lb("", 0.1).ok());
}
