#include "sync/clocks.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace jigtime;
using namespace jigtime::sync;

namespace {

constexpr double noon = 1.7735e9;

ClipInput clip(int camera, double wall, int trust = 1, double sigma = 0.5) {
  ClipInput input;
  input.camera = camera;
  input.length = from_seconds(60);
  input.clocks.push_back({WallTime{from_seconds(wall)}, from_seconds(sigma), trust});
  return input;
}

}  // namespace

TEST_CASE("a clip that cannot be heard is placed by what its camera's clock was off at its neighbours") {
  // A minute fast, give or take the whole seconds that the clock shows.
  const std::vector<ClipInput> clips{clip(0, noon + 60), clip(0, noon + 160.3), clip(0, noon + 260)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  book.learn(1, 100);
  const auto place = book.place(2);
  REQUIRE(place.has_value());
  CHECK(std::abs(place->start - 200) < 0.5);
  CHECK(place->sigma >= 0.5);
  CHECK(place->sigma < 1.5);
  CHECK(std::abs(*book.error_of(0) - (noon + 60.15)) < 0.2);
}

TEST_CASE("after a restart the clock's new setting counts, not the median of both") {
  const std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 100), clip(0, noon + 200), clip(0, 1000),
                                     clip(0, 1100)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  book.learn(1, 100);
  book.learn(2, 200);
  book.learn(3, 400);
  const auto place = book.place(4);
  REQUIRE(place.has_value());
  CHECK(std::abs(place->start - 500) < 0.1);
}

TEST_CASE("a clip filmed right after the clock fell back to its factory date is not placed years away") {
  const std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 100), clip(0, noon - 3e8)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  book.learn(1, 100);
  CHECK_FALSE(book.place(2).has_value());

  std::vector<ClipInput> with_file_time = clips;
  for (ClipInput& one : with_file_time) one.clocks.push_back({one.clocks[0].clip_zero, from_seconds(2), 2});
  with_file_time[2].clocks[1].clip_zero = WallTime{from_seconds(noon + 200)};
  ClockBook another{with_file_time, 0};
  another.learn(0, 0);
  another.learn(1, 100);
  const auto place = another.place(2);
  REQUIRE(place.has_value());
  CHECK(std::abs(place->start - 200) < 0.1);
}

TEST_CASE("a camera of which nothing was heard is placed by another's clock, with an hour's doubt") {
  const std::vector<ClipInput> clips{clip(0, noon), clip(1, noon + 300)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  const auto place = book.place(1);
  REQUIRE(place.has_value());
  CHECK(std::abs(place->start - 300) < 0.1);
  CHECK(place->sigma >= 1800);
}

TEST_CASE("another day's clock, and no clock, place nothing") {
  std::vector<ClipInput> clips{clip(0, noon), clip(1, noon + 3 * 86400), ClipInput{}};
  clips[2].camera = 1;
  ClockBook book{clips, 0};
  book.learn(0, 0);
  CHECK(!book.place(1));
  CHECK(!book.place(2));
  CHECK(!ClockBook{clips, 0}.place(0));
  CHECK(!ClockBook{clips, 0}.zero());
  CHECK(!book.error_of(1));
}

TEST_CASE("the session's zero is told by the kind most trusted, then by the clocks that bear each other out") {
  const std::vector<ClipInput> clips{clip(0, noon + 3600), clip(1, noon), clip(2, noon + 5)};
  ClockBook book{clips, 0};
  for (int i = 0; i < 3; ++i) book.learn(i, 0);
  // The reference, camera 0, is an hour off and alone with it.
  CHECK(std::abs(*book.zero() - noon) < 10);
  const std::vector<ClipInput> trusted{clip(0, noon + 3600, 0), clip(1, noon), clip(2, noon + 5)};
  ClockBook other{trusted, 1};
  for (int i = 0; i < 3; ++i) other.learn(i, 0);
  CHECK(std::abs(*other.zero() - (noon + 3600)) < 1e-6);
}
