#include "report/rounding.h"

#include <doctest/doctest.h>

#include <numeric>

using namespace jigtime;
using namespace jigtime::report;
using journal::Rounding;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

TEST_CASE("whole seconds add up to the rounded total and stay within a second of each row") {
  std::vector<Length> lengths;
  for (int i = 0; i < 50; ++i) lengths.push_back(milliseconds{137 * i * i + 499});
  const std::vector<Length> shown = shown_lengths(lengths, Rounding::none);
  const Length sum = std::accumulate(lengths.begin(), lengths.end(), Length{0});
  const Length shown_sum = std::accumulate(shown.begin(), shown.end(), Length{0});
  CHECK(shown_sum == std::chrono::round<seconds>(sum));
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    CHECK(shown[i] % seconds{1} == Length{0});
    CHECK(std::chrono::abs(shown[i] - lengths[i]) < seconds{1});
    CHECK(shown[i] >= Length{0});
  }
}

TEST_CASE("the journal's rule is used where there is one, and a total agrees with its rows") {
  const std::vector<Length> lengths{minutes{2}, minutes{2}, minutes{2}};
  const std::vector<Length> shown = shown_lengths(lengths, Rounding::tenth_hour);
  CHECK(shown[0] + shown[1] + shown[2] == minutes{6});
  CHECK(shown_length(minutes{6}, Rounding::tenth_hour) == minutes{6});
}

TEST_CASE("no rows give no rows") { CHECK(shown_lengths({}, Rounding::none).empty()); }
