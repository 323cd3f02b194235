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

TEST_CASE("where a camera's stamps may mark ends, clips of other lengths than those known are placed with that doubt") {
  std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 200)};
  clips[1].length = from_seconds(300);
  const auto sigma = [&] {
    ClockBook book{clips, 0};
    book.learn(0, 0);
    const auto place = book.place(1);
    REQUIRE(place.has_value());
    CHECK(std::abs(place->start - 200) < 0.1);
    return place->sigma;
  };
  CHECK(sigma() < 1);
  for (ClipInput& one : clips) one.clocks[0].if_end = one.length;
  CHECK(sigma() > 60);  // ends would put it 240 s earlier
  CHECK(sigma() < 120);
  clips[1].length = clips[1].clocks[0].if_end = clips[0].length;
  CHECK(sigma() < 1);
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

TEST_CASE("the time of a file tells when it was copied: by it one camera would have filmed several clips at once") {
  // A minute each, copied within ten seconds.
  const std::vector<ClipInput> clips{clip(0, noon + 3, 3), clip(0, noon + 6, 3), clip(0, noon + 9, 3)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  CHECK_FALSE(book.place(1).has_value());
  CHECK(book.at_once_with(1) == 0);
  // Nor is anything said of the camera's clock by them.
  CHECK_FALSE(book.error_of(0).has_value());
  CHECK_FALSE(book.zero().has_value());
  // Nor does another camera's clock help, where it is known when all of them but one were filmed.
  std::vector<ClipInput> more = clips;
  more.push_back(clip(1, noon - 50000));
  ClockBook known{more, 1};
  known.learn(0, 0);
  known.learn(2, 120);
  known.learn(3, 0);
  CHECK(known.zero().has_value());
  CHECK_FALSE(known.place(1).has_value());
}

TEST_CASE("a file's end and the next one's beginning may meet by a moment") {
  const std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 58)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  CHECK(book.place(1).has_value());
  CHECK_FALSE(book.at_once_with(1).has_value());
}

TEST_CASE("which setting of a clock a clip was filmed under is not guessed") {
  // Set back to the same time twice; the clip asked of is the first or the second after the second restart.
  const std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 100), clip(0, noon + 10), clip(0, noon + 110)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  book.learn(1, 100);
  CHECK_FALSE(book.place(3).has_value());
  book.learn(2, 5000);
  REQUIRE(book.place(3).has_value());
  CHECK(book.place(3)->start == doctest::Approx(5100));
}

TEST_CASE("a clip is not placed by a clock where its camera is known to have filmed another") {
  // The clock was set on by an hour, and not before the second clip as it seems, but after the third.
  const std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 5000), clip(0, noon + 200)};
  ClockBook book{clips, 0};
  book.learn(0, 0);
  book.learn(1, 180);
  CHECK_FALSE(book.place(2).has_value());
}

TEST_CASE("where the stamps of a camera are none, its files' times do not pass for them") {
  // Copied five hours later; the other camera's files are as it wrote them.
  std::vector<ClipInput> clips{clip(0, noon, 1), clip(0, noon, 1), clip(1, noon + 50, 3)};
  for (int i = 0; i < 2; ++i) {
    clips[static_cast<std::size_t>(i)].clocks.push_back(
        {WallTime{from_seconds(noon + 18000 + 100 * i)}, from_seconds(4), 3});
  }
  ClockBook book{clips, 1};
  book.learn(0, 0);
  book.learn(1, 100);
  book.learn(2, 50);
  CHECK(std::abs(*book.zero() - noon) < 5);
}

TEST_CASE("two readings of one file in two zones are not two clips at once") {
  std::vector<ClipInput> clips{clip(0, noon), clip(0, noon + 7230)};
  clips[0].clocks.push_back({WallTime{from_seconds(noon + 7200)}, from_seconds(0.5), 1});
  clips[1].clocks.push_back({WallTime{from_seconds(noon + 14430)}, from_seconds(0.5), 1});
  const ClockBook book{clips, 0};
  CHECK_FALSE(book.at_once_with(0).has_value());
}
