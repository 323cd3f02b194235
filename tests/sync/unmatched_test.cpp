#include "sync/unmatched.h"

#include <doctest/doctest.h>

#include "sync/line_up.h"
#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

namespace {

constexpr double as_usual = 40;

/// Windows from `from` on, both clips as loud in each as told, of which the first `agreed` bear the line out.
std::vector<Glimpse> windows(double from, int count, int agreed, double in_a = as_usual, double in_b = as_usual) {
  std::vector<Glimpse> all;
  for (int i = 0; i < count; ++i) {
    all.push_back({.at = from + 4 * i, .happens = 30, .agrees = i < agreed, .in_a = in_a, .in_b = in_b});
  }
  return all;
}

Segment segment(int count, int agreed) {
  Segment segment;
  segment.glimpses = windows(0, count, agreed);
  segment.to = 4 * count;
  return segment;
}

}  // namespace

TEST_CASE("two clips part company where what both heard as loud as before does not fit any more") {
  const Segment nearly_all = segment(40, 36), few = segment(40, 12);
  CHECK(parts_company(nearly_all, windows(200, 6, 0)));
  CHECK(parts_company(nearly_all, windows(200, 20, 2)));
  CHECK_FALSE(parts_company(nearly_all, windows(200, 20, 10)));
  CHECK_FALSE(parts_company(nearly_all, windows(200, 3, 0)));
  // Where noise lets few agree, as few beyond tell nothing.
  CHECK_FALSE(parts_company(few, windows(200, 8, 0)));
  CHECK(parts_company(few, windows(200, 40, 0)));
  // What one clip alone heard, or neither, tells nothing.
  CHECK_FALSE(parts_company(nearly_all, windows(200, 20, 0, as_usual, 1)));
  CHECK_FALSE(parts_company(nearly_all, windows(200, 20, 0, 1, as_usual)));
}

// What is beyond lay as surely as the rest.
TEST_CASE("a clip that goes on in another room is told so, and the part beyond says that it may lie elsewhere") {
  const Shop shop = make_shop({.number = 41, .seconds = 420, .every = 3});
  const Shop elsewhere = make_shop({.number = 42, .seconds = 420, .every = 3});
  for (const bool before : {false, true}) {
    const Take take{.start = 20, .seconds = 360, .number = 2};
    std::vector<float> samples = record(shop, take);
    const std::vector<float> other = record(elsewhere, take);
    const double from = before ? 0 : 290, to = before ? 70 : 360;
    const auto first = static_cast<std::ptrdiff_t>(from * sample_rate_hz);
    const auto last = static_cast<std::ptrdiff_t>(to * sample_rate_hz);
    std::copy(other.begin() + first, other.begin() + last, samples.begin() + first);
    Footage footage;
    footage.add(shop, {.start = 0, .seconds = 400, .number = 1}, 0);
    ClipInput& clip = footage.add(shop, take, 1);
    *footage.sounds.back() = MemorySound{samples};
    *footage.features.back() = features_of(samples);
    REQUIRE(clip.sound == footage.sounds.back().get());
    const auto result = line_up(footage.clips, 2, {}, {});
    REQUIRE(result.ok());
    CHECK(std::abs(placed_at(result->clips[1], 180) - placed_at(result->clips[0], 200)) < 0.002);
    for (const ClipResult& one : result->clips) {
      REQUIRE(one.pieces.size() == 2);
      CHECK(to_seconds(one.pieces[before ? 0 : 1].sigma) > 10);
      CHECK(to_seconds(one.pieces[before ? 1 : 0].sigma) < 0.005);
      REQUIRE(one.notes.size() == 1);
      CHECK(one.notes[0].kind == Note::Kind::parts_company);
      CHECK(one.notes[0].before == before);
    }
    CHECK(std::abs(to_seconds(result->clips[1].notes[0].clip_at) - (before ? 70 : 290)) < 6);
    CHECK(result->clips[1].notes[0].other == 0);
  }
}
