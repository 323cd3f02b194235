#include "journal/seal_lines.h"

#include <doctest/doctest.h>

#include <random>

using namespace jigtime;
using namespace jigtime::journal;
using namespace std::chrono_literals;

TEST_CASE("exact times keep every nanosecond") {
  CHECK(exact_text(Length{0}) == "0:00:00.000000000");
  CHECK(exact_text(1h + 2min + 3s + 4ns) == "1:02:03.000000004");
  CHECK(exact_text(Length{999'999'999}) == "0:00:00.999999999");
  CHECK(exact_text(27h - 1ns) == "26:59:59.999999999");
}

TEST_CASE("a negative time keeps its sign below a second too") {
  CHECK(exact_text(Length{-1}) == "-0:00:00.000000001");
  CHECK(exact_text(-1h - 1ns) == "-1:00:00.000000001");
}

TEST_CASE("wall times before 1970 are exact too") {
  CHECK(exact_text(WallTime{-1ns}) == "1969-12-31T23:59:59.999999999Z");
  CHECK(exact_text(WallTime{1s}) == "1970-01-01T00:00:01.000000000Z");
}

TEST_CASE("any text comes back from its escaped form, which is one line") {
  std::mt19937 dice{3};
  const std::string letters = "\\nr\n\r a:";
  for (int round = 0; round < 2000; ++round) {
    std::string text;
    for (auto i = dice() % 12; i > 0; --i) text += letters[dice() % letters.size()];
    const std::string line = escaped(text);
    CAPTURE(text);
    REQUIRE(line.find('\n') == std::string::npos);
    REQUIRE(line.find('\r') == std::string::npos);
    REQUIRE(unescaped(line) == text);
  }
}

TEST_CASE("a backslash at the end of a damaged line stands for itself") { CHECK(unescaped("a\\") == "a\\"); }
