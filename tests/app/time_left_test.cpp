#include "app/view/time_left.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

TEST_CASE("a steady job says how long it will still take") {
  TimeLeft left;
  left.note(0.25, 60s);
  REQUIRE(left.left());
  CHECK(to_seconds(*left.left()) == doctest::Approx(180));
  CHECK(time_left_words(left.left()) == "about 3 min left");
}

TEST_CASE("nothing is said while too little is known") {
  TimeLeft left;
  CHECK_FALSE(left.left());
  left.note(0.5, 1s);
  CHECK_FALSE(left.left());
  left.note(0.001, 600s);
  CHECK(time_left_words(std::nullopt).empty());
}

TEST_CASE("a job that reports less than before does not go back") {
  TimeLeft left;
  left.note(0.5, 100s);
  left.note(0.1, 110s);
  CHECK(to_seconds(*left.left()) == doctest::Approx(110));
  left.note(7, 120s);
  CHECK(*left.left() == 0s);
}

TEST_CASE("the words are as exact as one can be") {
  CHECK(time_left_words(3s) == "a moment left");
  CHECK(time_left_words(41s) == "about 50 s left");
  CHECK(time_left_words(3h + 5min) == "about 3 h 5 min left");
}
