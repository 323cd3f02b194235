#include "handbook/length.h"

#include <doctest/doctest.h>

#include <limits>

#include "handbook/callout.h"

using namespace jigtime;
using namespace jigtime::handbook;

// L = grip + 1.5 D: US Navy training manual 14018, rivet selection, rule 8 (seen). The rows are arithmetic on it.
TEST_CASE("a grip gives the length wanted and all three published ways of rounding it") {
  struct Row {
    double grip_in;
    int diameter_32nds;
    double wanted_in;
    double wanted_16ths;
    double nearest;
    double next_whole;
    double next_half;
  };
  const Row rows[] = {
      {0.045, 3, 0.1856, 2.970, 3, 3, 3},   {0.050, 3, 0.1906, 3.050, 3, 4, 3.5}, {0.057, 3, 0.1976, 3.162, 3, 4, 3.5},
      {0.064, 3, 0.2046, 3.274, 3, 4, 3.5}, {0.080, 3, 0.2206, 3.530, 4, 4, 4},   {0.080, 4, 0.2675, 4.280, 4, 5, 4.5},
      {0.095, 4, 0.2825, 4.520, 5, 5, 5},   {0.100, 5, 0.3344, 5.350, 5, 6, 5.5}, {0.126, 6, 0.4073, 6.516, 7, 7, 7},
      {0.157, 4, 0.3445, 5.512, 6, 6, 6},
  };
  for (const Row& row : rows) {
    CAPTURE(row.grip_in);
    CAPTURE(row.diameter_32nds);
    const auto lengths = lengths_for_grip(row.grip_in, row.diameter_32nds);
    REQUIRE(lengths.ok());
    CHECK(lengths->wanted_in == doctest::Approx(row.wanted_in).epsilon(0.0003));
    CHECK(lengths->wanted_16ths == doctest::Approx(row.wanted_16ths).epsilon(0.0003));
    REQUIRE(lengths->candidates.size() == 3);
    CHECK(lengths->candidates[0].length_32nds == doctest::Approx(row.nearest * 2));
    CHECK(lengths->candidates[1].length_32nds == doctest::Approx(row.next_whole * 2));
    CHECK(lengths->candidates[2].length_32nds == doctest::Approx(row.next_half * 2));
    CHECK(lengths->notes.empty());
  }
}

TEST_CASE("a sum that is a standard length is that length by every rule, and the wording of the manuals is told") {
  const auto lengths = lengths_for_grip(0.125, 4);  // .125 + .1875 = .3125 = 5/16
  for (const LengthCandidate& candidate : lengths->candidates) CHECK(candidate.length_32nds == 10);
  REQUIRE(lengths->notes.size() == 1);
  CHECK(lengths->notes[0].find("greater than the sum") != std::string::npos);
}

TEST_CASE("a sum midway between two lengths names the upper one and says so") {
  const auto lengths = lengths_for_grip(0.09375, 4);  // .28125 = 4.5/16
  CHECK(lengths->candidates[0].length_32nds == 10);
  CHECK(lengths->candidates[1].length_32nds == 10);
  CHECK(lengths->candidates[2].length_32nds == 9);
  REQUIRE(lengths->notes.size() == 1);
  CHECK(lengths->notes[0].find("midway") != std::string::npos);
}

TEST_CASE("a grip or a diameter that is none is refused") {
  for (const double grip :
       {0.0, -0.1, 4.001, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    const auto lengths = lengths_for_grip(grip, 4);
    REQUIRE_FALSE(lengths.ok());
    CHECK(lengths.error().code() == Code::invalid);
    CHECK(lengths.error().message().find("above 0 and at most 4 inches") != std::string::npos);
  }
  for (const int diameter : {-1, 0, 1, 13}) CHECK_FALSE(lengths_for_grip(0.1, diameter).ok());
}

TEST_CASE("the explanation names every candidate with its source and decides nothing") {
  const auto sentences = explain(*lengths_for_grip(0.080, 4));
  std::string all;
  for (const std::string& sentence : sentences) all += sentence + "\n";
  for (const char* words : {"0.2675 in, that is 4.28 sixteenths", "nearest whole sixteenth: -4, 1/4 in",
                            "next whole sixteenth up: -5, 5/16 in", "next half length up: -4.5, 9/32 in",
                            "as quoted elsewhere", "the plans decide"}) {
    CAPTURE(words);
    CHECK(all.find(words) != std::string::npos);
  }
  CHECK(sentences.back() == caution);
}
