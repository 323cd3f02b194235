#include "handbook/inches.h"

#include <doctest/doctest.h>

using namespace jigtime::handbook;

TEST_CASE("fractions of an inch are reduced and followed by their exact decimal") {
  CHECK(inches_text(4, 32) == "1/8 in (0.125 in)");
  CHECK(inches_text(9, 32) == "9/32 in (0.28125 in)");
  CHECK(inches_text(1, 64) == "1/64 in (0.015625 in)");
  CHECK(inches_text(40, 32) == "1 1/4 in (1.25 in)");
  CHECK(inches_text(64, 32) == "2 in");
  CHECK(inches_text(0, 32) == "0 in");
}

TEST_CASE("thousandths keep three decimals") {
  CHECK(mils_text(63) == ".063");
  CHECK(mils_text(0) == ".000");
  CHECK(mils_text(1250) == "1.250");
}
