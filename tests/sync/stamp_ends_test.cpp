#include "sync/stamp_ends.h"

#include <doctest/doctest.h>

#include "match.h"

using namespace jigtime;
using namespace jigtime::sync;

namespace {

using std::chrono::milliseconds;

/// A clip of that length whose file's stamp may mark its end.
ClipInput stamped(int camera, double stamp, double length) {
  ClipInput clip;
  clip.camera = camera;
  clip.length = from_seconds(length);
  const WallTime noon = std::chrono::sys_days{std::chrono::year{2026} / 6 / 15} + std::chrono::hours{12};
  clip.clocks.push_back({noon + from_seconds(stamp), milliseconds{1300}, 1, clip.length});
  return clip;
}

/// b's time is `lag` when a begins.
PairMatch pair(int a, int b, double lag) {
  Segment segment;
  segment.to = 50;
  segment.fit.line = {0, lag, 0};
  return test::match(a, b, {segment});
}

/// By how much the stamp of the clip was moved; nothing where that is still in question.
std::optional<double> moved(const ClipInput& before, const ClipInput& after) {
  if (after.clocks[0].if_end > Length{0}) return std::nullopt;
  return to_seconds(before.clocks[0].clip_zero - after.clocks[0].clip_zero);
}

std::vector<ClipInput> settled(std::vector<ClipInput> clips, const std::vector<PairMatch>& matches) {
  settle_ends(matches, clips);
  return clips;
}

}  // namespace

TEST_CASE("a camera whose clock is another's by the ends of its files marks ends") {
  // Clip 0 runs from 0 to 900, clip 1 from 100 to 260, clip 2 from 500 to 560.
  for (const double zone : {0.0, 3600.0, -7 * 3600.0}) {
    CAPTURE(zone);
    const std::vector<ClipInput> clips{stamped(0, 0, 900), stamped(1, zone + 260 + 1.4, 160),
                                       stamped(1, zone + 561, 60)};
    const auto after = settled(clips, {pair(0, 1, -100), pair(2, 0, 500)});
    CHECK(moved(clips[1], after[1]) == doctest::Approx(160));
    CHECK(moved(clips[2], after[2]) == doctest::Approx(60));
    CHECK_FALSE(moved(clips[0], after[0]) == 900);
  }
  // One word is too little: a clock may be off by just that.
  std::vector<ClipInput> clips{stamped(0, 0, 900), stamped(1, 1800 + 261.4, 160)};
  CHECK_FALSE(moved(clips[1], settled(clips, {pair(0, 1, -100)})[1]));
  // Not where it is the very same time.
  clips[1] = stamped(1, 261.4, 160);
  CHECK(moved(clips[1], settled(clips, {pair(0, 1, -100)})[1]) == doctest::Approx(160));
}

TEST_CASE("a camera whose clock is another's by the beginnings marks these") {
  const std::vector<ClipInput> clips{stamped(0, 0, 500), stamped(1, 102, 160)};
  const auto after = settled(clips, {pair(0, 1, -100)});
  CHECK(moved(clips[0], after[0]) == 0);
  CHECK(moved(clips[1], after[1]) == 0);
}

TEST_CASE("two cameras that both mark ends, of clips as long, do not take each other for beginnings") {
  const std::vector<ClipInput> clips{stamped(0, 500, 500), stamped(1, 501, 500), stamped(0, 900, 300),
                                     stamped(1, 901, 300)};
  const auto after = settled(clips, {pair(0, 1, 0), pair(2, 3, 0)});
  for (std::size_t i = 0; i < clips.size(); ++i) CHECK_FALSE(moved(clips[i], after[i]));
}

TEST_CASE("where a clock is minutes off one clip does not tell, and several of different lengths do") {
  const double off = 777;
  std::vector<ClipInput> clips{stamped(0, 0, 1500), stamped(1, off + 100 + 160, 160), stamped(1, off + 500 + 60, 60),
                               stamped(1, off + 900 + 250, 250)};
  const std::vector<PairMatch> pairs{pair(0, 1, -100), pair(0, 2, -500), pair(0, 3, -900)};
  CHECK_FALSE(moved(clips[1], settled(clips, {pairs[0]})[1]));
  auto after = settled(clips, pairs);
  CHECK(moved(clips[1], after[1]) == doctest::Approx(160));
  CHECK(moved(clips[2], after[2]) == doctest::Approx(60));
  SUBCASE("for beginnings as well") {
    clips[1] = stamped(1, off + 100, 160);
    clips[2] = stamped(1, off + 501, 60);
    clips[3] = stamped(1, off + 900, 250);
    after = settled(clips, pairs);
    CHECK(moved(clips[1], after[1]) == 0);
  }
  SUBCASE("but not those that were filmed by other settings of the clock") {
    clips[2] = stamped(1, off + 5000, 60);
    clips[3] = stamped(1, off + 9000, 250);
    CHECK_FALSE(moved(clips[1], settled(clips, pairs)[1]));
  }
}

TEST_CASE("a camera films one clip at a time by the edge that it marks; but that alone moves nothing") {
  // 200 s, a pause of 10 s and 400 s: their ends lie 410 s apart.
  const std::vector<ClipInput> begins{stamped(0, 0, 200), stamped(0, 210, 400)};
  CHECK(moved(begins[1], settled(begins, {})[1]) == 0);
  // A clock that was set back looks the same, and so does slow motion.
  const std::vector<ClipInput> ends{stamped(0, 400, 400), stamped(0, 610, 200), stamped(0, 1200, 500),
                                    stamped(0, 1420, 200)};
  CHECK_FALSE(moved(ends[0], settled(ends, {})[0]));
  // A long pause lets both be.
  const std::vector<ClipInput> either{stamped(0, 0, 200), stamped(0, 900, 400)};
  CHECK_FALSE(moved(either[0], settled(either, {})[0]));
}

TEST_CASE("where pairs contradict each other about a camera's stamps, they stay what they are taken for") {
  const std::vector<ClipInput> clips{stamped(0, 0, 900), stamped(1, 100 + 160, 160), stamped(1, 500, 60)};
  const auto after = settled(clips, {pair(0, 1, -100), pair(0, 2, -500)});
  CHECK_FALSE(moved(clips[1], after[1]));
  CHECK(after[1].clocks[0].clip_zero == clips[1].clocks[0].clip_zero);
}

TEST_CASE("a reading that is known to mark the beginning stays, and so does one of a clip without pairs") {
  std::vector<ClipInput> clips{stamped(0, 0, 900), stamped(1, 261.4, 160), stamped(1, 561, 60)};
  const std::vector<PairMatch> pairs{pair(0, 1, -100), pair(0, 2, -500)};
  CHECK_FALSE(moved(clips[1], settled(clips, {})[1]));
  clips[1].clocks[0].if_end = Length{0};
  CHECK(moved(clips[1], settled(clips, pairs)[1]) == 0);
  CHECK(settled({}, {}).empty());
}
