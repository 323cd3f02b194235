#include "sync/follow_on.h"

#include <doctest/doctest.h>

#include <optional>
#include <utility>
#include <vector>

#include "sync/clock_talk.h"
#include "sync/pair_word.h"

using namespace jigtime;
using namespace jigtime::sync;
using jigtime::test::heard;

namespace {

/// A camera that split its recording into files of 155 s, without any clock, and another one that ran all along.
struct Split {
  double doubted_at = 155.3;  ///< second of the long clip at which a doubted pair puts the beginning of the second file
  std::optional<int> first_number = 0, second_number = 1, third_number = 2;
  bool first_proven = true, third_proven = true;
  double slope = 0;  ///< of the long clip's clock against the camera's
  bool long_first = false;
  int third_camera = 0;

  std::vector<ClipInput> clips() const {
    std::vector<ClipInput> clips(4);
    for (ClipInput& clip : clips) clip.length = from_seconds(155);
    clips[0].number = first_number;
    clips[1].number = second_number;
    clips[2].number = third_number;
    clips[2].camera = third_camera;
    clips[3].camera = 1;
    clips[3].length = from_seconds(600);
    return clips;
  }
  PairMatch pair(int clip, double begins) const {
    PairMatch match = heard(clip, 3, 5, 150, begins);
    Segment& segment = match.segments.front();
    segment.fit.line.lag += slope * segment.fit.line.at;
    segment.fit.line.slope = slope;
    if (!long_first) return match;
    segment.fit.line = reversed(segment.fit.line);
    std::swap(match.a, match.b);
    return match;
  }
  std::vector<PairMatch> matches() const {
    std::vector<PairMatch> matches{pair(1, doubted_at)};
    std::swap(matches.front().segments, matches.front().doubted);
    if (first_proven) matches.push_back(pair(0, 0));
    if (third_proven) matches.push_back(pair(2, 310.5));
    return matches;
  }
  bool follows() const { return following_on(clips(), matches()) == std::vector<int>{0}; }
};

}  // namespace

TEST_CASE("a doubted clip is believed where it begins as its camera's one before ends, or ends as the next begins") {
  for (const bool long_first : {false, true}) {
    CAPTURE(long_first);
    CHECK(Split{.third_proven = false, .long_first = long_first}.follows());
    CHECK(Split{.first_proven = false, .long_first = long_first}.follows());
    CHECK(Split{.doubted_at = 155.9, .first_proven = false, .slope = 0, .long_first = long_first}.follows() == false);
    CHECK(Split{.doubted_at = 155.9, .third_proven = false, .long_first = long_first}.follows());
    // 200 ppm over a file are 31 ms.
    CHECK(Split{.doubted_at = 154.82, .third_proven = false, .slope = 200e-6, .long_first = long_first}.follows() ==
          false);
    CHECK(Split{.doubted_at = 154.84, .third_proven = false, .slope = 200e-6, .long_first = long_first}.follows());
  }
}

TEST_CASE("a doubted clip that would begin otherwise, or after another than the one before, stays doubted") {
  CHECK_FALSE(Split{.doubted_at = 157}.follows());
  CHECK_FALSE(Split{.doubted_at = 153}.follows());
  CHECK_FALSE(Split{.first_proven = false, .third_proven = false}.follows());
  CHECK_FALSE(Split{.first_number = 7, .third_proven = false}.follows());
  CHECK_FALSE(Split{.second_number = {}}.follows());
  CHECK_FALSE(Split{.first_number = {}, .third_number = {}}.follows());
  CHECK_FALSE(Split{.first_proven = false, .third_camera = 2}.follows());
  // It would lie over the third file.
  const Split over;
  std::vector<PairMatch> matches = over.matches();
  matches.back() = over.pair(2, 180);
  CHECK(following_on(over.clips(), matches).empty());
  // Its clock is asked instead.
  std::vector<ClipInput> dated = over.clips();
  dated[1].clocks = {{WallTime{from_seconds(1.7735e9)}, from_seconds(1.3), 1}};
  CHECK(following_on(dated, over.matches()).empty());
  // What comes before by its number does not come after.
  CHECK_FALSE(Split{.doubted_at = 155.3, .first_number = 2, .third_proven = false}.follows());
}

TEST_CASE("what follows on counts as what clocks bear out does") {
  const Split split;
  std::vector<PairMatch> matches = split.matches();
  ask_cameras(split.clips(), matches);
  CHECK(matches.front().doubted.empty());
  REQUIRE(matches.front().segments.size() == 1);
  CHECK(matches.front().overlap == doctest::Approx(145));
}
