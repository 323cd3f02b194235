#include "detect/background.h"

#include <doctest/doctest.h>

namespace jigtime::detect {

TEST_CASE("a loud fifth part of the time does not raise the background") {
  Background background{50};
  for (int n = 0; n < 50; ++n) background.add(n % 5 == 0 ? 0.0F : -60.0F);
  CHECK(background.level_db() == doctest::Approx(-60));
}

TEST_CASE("what goes on becomes background once it fills four fifths of the reach") {
  Background background{50};
  for (int n = 0; n < 50; ++n) background.add(-60);
  for (int n = 0; n < 35; ++n) background.add(-20);
  CHECK(background.level_db() == doctest::Approx(-60));
  for (int n = 0; n < 10; ++n) background.add(-20);
  CHECK(background.level_db() == doctest::Approx(-20));
}

TEST_CASE("before anything was heard the background is far below every sound") {
  CHECK(Background{10}.level_db() <= -150);
}

}  // namespace jigtime::detect
