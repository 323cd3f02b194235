#include "app/view/list_shape.h"

#include <doctest/doctest.h>

using namespace jigtime::app;

namespace {

ListRoom room_of(float height) { return {height, 2, 20, 25}; }

}  // namespace

TEST_CASE("a list that has room stands in one column of high lines") {
  CHECK(list_shape(6, room_of(400)).columns == 1);
  CHECK(list_shape(6, room_of(400)).line == doctest::Approx(25));
}

TEST_CASE("lines become lower first, then two columns hold all numbers") {
  const ListShape lower = list_shape(9, room_of(200));
  CHECK(lower.columns == 1);
  CHECK(9 * (lower.line + 2) <= doctest::Approx(200));
  const ListShape two = list_shape(9, room_of(130));
  CHECK(two.columns == 2);
  CHECK(5 * (two.line + 2) <= doctest::Approx(130));
}

TEST_CASE("a list that cannot be seen whole keeps its words whole") {
  CHECK(list_shape(9, room_of(60)).columns == 1);
  CHECK(list_shape(9, room_of(-5)).line == doctest::Approx(25));
}
