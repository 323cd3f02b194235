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

// 29 CFR 1910.95 App A as an agency's answer works it (seen): 8 h at 92 dBA are T = 6.1 h and 131 %; with T unrounded
// 132.0 %. 8 h at 90 dBA are 100 % and average 90; 4 h at 90 with 4 h at 80 (T = 32 h) are 62.5 %, worked by hand.
TEST_CASE("the dose of a day adds up over its levels") {
  const Exposure eight_at_92[] = {{92, 8}};
  CHECK(noise_dose(eight_at_92)->percent == doctest::Approx(132.0).epsilon(0.0005));
  CHECK(100 * 8 / 6.1 == doctest::Approx(131).epsilon(0.002));
  const Exposure eight_at_90[] = {{90, 8}};
  CHECK(noise_dose(eight_at_90)->percent == doctest::Approx(100));
  CHECK(noise_dose(eight_at_90)->average_dba == doctest::Approx(90));
  const Exposure mixed[] = {{90, 4}, {80, 4}};
  CHECK(noise_dose(mixed)->percent == doctest::Approx(62.5));
  // Half the dose is an average of 85 dBA.
  const Exposure half[] = {{90, 4}};
  CHECK(noise_dose(half)->average_dba == doctest::Approx(85).epsilon(0.0001));
}

// 29 CFR 1910.95, Table G-16 (the same numbers seen in a state rule): rounded for print.
TEST_CASE("the formula's hours are those of the printed table within its rounding") {
  const std::pair<double, double> rows[] = {{90, 8},    {92, 6},  {95, 4},    {97, 3},    {100, 2},
                                            {102, 1.5}, {105, 1}, {110, 0.5}, {115, 0.25}};
  for (const auto& [dba, hours] : rows)
    CHECK((*noise_allowances(dba))[0].hours == doctest::Approx(hours).epsilon(0.011));
}

TEST_CASE("a dose of nothing, of more than a day or of a level no meter shows is refused") {
  CHECK_FALSE(noise_dose({}).ok());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const Exposure exposure :
       {Exposure{90, 0}, Exposure{90, -1}, Exposure{90, 25}, Exposure{20, 1}, Exposure{nan, 1}, Exposure{90, nan}}) {
    const auto dose = noise_dose({&exposure, 1});
    REQUIRE_FALSE(dose.ok());
    CHECK(dose.error().code() == Code::invalid);
  }
  const Exposure two[] = {{90, 13}, {91, 12}};
  CHECK_FALSE(noise_dose(two).ok());
}

TEST_CASE("what else is known of noise names its source") {
  CHECK(noise_notes().size() == 4);
  for (const NoiseNote& note : noise_notes()) {
    CHECK(note.text.back() == '.');
    CHECK_FALSE(note.source.name.empty());
  }
}
