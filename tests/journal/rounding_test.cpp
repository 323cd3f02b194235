#include <doctest/doctest.h>

#include <map>
#include <numeric>
#include <random>

#include "journal/hours.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace std::chrono_literals;

TEST_CASE("rounded rows add up to the rounded total") {
  // 20 + 20 + 20 minutes are one hour; each alone would round to 0.3 h.
  const std::vector<Length> rows = rounded_to_add_up({20min, 20min, 20min}, Rounding::tenth_hour);
  CHECK(rows == std::vector<Length>{24min, 18min, 18min});
}

TEST_CASE("the largest remainder is rounded up first") {
  const std::vector<Length> rows = rounded_to_add_up({61s, 119s, 90s}, Rounding::minute);
  // 270 s are 4.5 minutes, rounded to 5: one minute each, one more for 119 s and one for 90 s.
  CHECK(rows == std::vector<Length>{1min, 2min, 2min});
}

TEST_CASE("rounding to none leaves every nanosecond") {
  const std::vector<Length> rows{Length{1}, Length{999'999'999}, 7h};
  CHECK(rounded_to_add_up(rows, Rounding::none) == rows);
}

TEST_CASE("no rows round to no rows") { CHECK(rounded_to_add_up({}, Rounding::quarter_hour).empty()); }

TEST_CASE("rows of nothing stay nothing when others are rounded up") {
  CHECK(rounded_to_add_up({0min, 8min, 0min}, Rounding::quarter_hour) == std::vector<Length>{0min, 15min, 0min});
}

TEST_CASE("random rows add up, and none moves by a whole unit") {
  std::mt19937_64 dice{11};
  const std::map<Rounding, Length> units{
      {Rounding::minute, 1min}, {Rounding::tenth_hour, 6min}, {Rounding::quarter_hour, 15min}};
  for (const auto& [rounding, unit] : units) {
    for (int round = 0; round < 300; ++round) {
      std::vector<Length> rows(dice() % 20);
      for (Length& row : rows) row = Length{static_cast<std::int64_t>(dice() % 40'000'000'000'000)};
      const std::vector<Length> shown = rounded_to_add_up(rows, rounding);
      const Length total = std::accumulate(rows.begin(), rows.end(), Length{0});
      const Length shown_total = std::accumulate(shown.begin(), shown.end(), Length{0});
      REQUIRE(shown_total == (total + unit / 2) / unit * unit);
      for (std::size_t i = 0; i < rows.size(); ++i) {
        REQUIRE(shown[i] % unit == Length{0});
        REQUIRE(std::chrono::abs(shown[i] - rows[i]) < unit);
      }
    }
  }
}
