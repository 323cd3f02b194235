#include "report/leaders.h"

#include <doctest/doctest.h>

#include "report/text_width.h"

using namespace jigtime::report;

namespace {

Leader wanted(double x, const char* text, Rank rank = Rank::first) { return {rank, x, 40, 0, 0, text}; }

bool apart(const std::vector<Leader>& leaders) {
  for (std::size_t i = 1; i < leaders.size(); ++i) {
    const double halves = (text_width(leaders[i - 1].text, 9) + text_width(leaders[i].text, 9)) / 2;
    if (leaders[i].text_x - leaders[i - 1].text_x < halves) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a label with room stands right below its bar") {
  std::vector<Leader> leaders{wanted(100, "C1"), wanted(200, "C2")};
  CHECK(place_leaders(leaders, {0, 600}, 55, 9) == 0);
  CHECK(leaders[0].text_x == doctest::Approx(100));
  CHECK(leaders[1].text_x == doctest::Approx(200));
  CHECK(leaders[0].text_y == doctest::Approx(55));
}

TEST_CASE("crowded labels move apart, and those that would have to go too far are left out and counted") {
  std::vector<Leader> leaders;
  for (int i = 0; i < 40; ++i) leaders.push_back(wanted(100 + i, "C123"));
  const int left_out = place_leaders(leaders, {0, 600}, 55, 9);
  CHECK(left_out + static_cast<int>(leaders.size()) == 40);
  CHECK(left_out > 30);
  CHECK(leaders.size() >= 2);
  CHECK(apart(leaders));
}

TEST_CASE("labels at the edges stay inside the chart") {
  std::vector<Leader> leaders{wanted(-4, "C1"), wanted(604, "C2")};
  CHECK(place_leaders(leaders, {0, 600}, 55, 9) == 0);
  CHECK(leaders[0].text_x - text_width("C1", 9) / 2 >= 0);
  CHECK(leaders[1].text_x + text_width("C2", 9) / 2 <= 600);
}

TEST_CASE("labels of the second rank take only what room the first leave") {
  std::vector<Leader> leaders{wanted(98, "dropout 18 s", Rank::second), wanted(100, "C1"),
                              wanted(300, "dropout 18 s", Rank::second)};
  CHECK(place_leaders(leaders, {0, 600}, 55, 9) == 1);
  REQUIRE(leaders.size() == 2);
  CHECK(leaders[0].text == "C1");
  CHECK(leaders[1].text_x == doctest::Approx(300));
  CHECK(apart(leaders));
}

TEST_CASE("a label wider than the chart is left out") {
  std::vector<Leader> leaders{wanted(5, "a label far too wide"), wanted(5, "also far too wide", Rank::second)};
  CHECK(place_leaders(leaders, {0, 10}, 55, 9) == 2);
  CHECK(leaders.empty());
}
