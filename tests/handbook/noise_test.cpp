#include "handbook/noise.h"

#include <doctest/doctest.h>

#include <limits>

using namespace jigtime;
using namespace jigtime::handbook;

// 29 CFR 1910.95 App A (seen) and the NIOSH recommendation (as quoted): hours worked out from the formulas.
TEST_CASE("the United States rule and the recommendation give their hours, side by side") {
  struct Row {
    double dba;
    double us_hours;
    double recommended_hours;
  };
  const Row rows[] = {{85, 16.0, 8.0},  {88, 10.556, 4.0},  {90, 8.0, 2.5198},  {92, 6.063, 1.5874}, {95, 4.0, 0.7937},
                      {100, 2.0, 0.25}, {105, 1.0, 0.0787}, {110, 0.5, 0.0248}, {115, 0.25, 0.0078}};
  for (const Row& row : rows) {
    CAPTURE(row.dba);
    const auto allowances = noise_allowances(row.dba);
    REQUIRE(allowances.ok());
    REQUIRE(allowances->size() == 3);
    CHECK((*allowances)[0].hours == doctest::Approx(row.us_hours).epsilon(0.0005));
    CHECK((*allowances)[1].hours == doctest::Approx(row.recommended_hours).epsilon(0.01));
  }
}

// Canadian federal directive, table (seen).
TEST_CASE("the Canadian rule gives the hours of its table") {
  const std::pair<double, double> rows[] = {{87, 8}, {90, 4}, {93, 2}, {96, 1}, {99, 0.5}};
  for (const auto& [dba, hours] : rows) CHECK((*noise_allowances(dba))[2].hours == doctest::Approx(hours));
}

TEST_CASE("every rule is named with its source") {
  const auto allowances = noise_allowances(100);
  REQUIRE(allowances.ok());
  for (const NoiseAllowance& allowance : *allowances) {
    CHECK(allowance.rule.find("dBA for 8 h") != std::string_view::npos);
    CHECK_FALSE(allowance.source.name.empty());
  }
}

TEST_CASE("a level no meter shows in a workshop is refused") {
  for (const double level : {0.0, 59.9, 140.1, -90.0, std::numeric_limits<double>::quiet_NaN()}) {
    const auto allowances = noise_allowances(level);
    REQUIRE_FALSE(allowances.ok());
    CHECK(allowances.error().code() == Code::invalid);
  }
}
