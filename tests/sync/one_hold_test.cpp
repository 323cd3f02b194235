#include "sync/one_hold.h"

#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <vector>

#include "sync/pair_word.h"

using namespace jigtime;
using namespace jigtime::sync;
using test::heard;

namespace {

constexpr double noon = 1.7735e9;

/// Camera 0 ran for 600 s. Camera 1 filmed from 20 s of it to 120 s and from 400 s on, and camera 2 as well if it did.
/// By what was heard; in truth camera 0 lost time in between.
struct Day {
  double later_by_clock = 0;   ///< camera 1's second clip, than by sound
  double first_length = 100;   ///< of camera 1's first clip
  double second_length = 150;  ///< of its second
  bool in_question = false;    ///< its stamps may mark ends
  std::vector<PairMatch> more{};

  std::vector<ClipInput> clips() const {
    std::vector<ClipInput> all(4);
    const auto film = [&](int clip, int camera, double begin, double length) {
      ClipInput& one = all[static_cast<std::size_t>(clip)];
      one.camera = camera;
      one.length = from_seconds(length);
      one.clocks = {{WallTime{from_seconds(noon + begin)}, from_seconds(1.3), 1}};
      if (in_question) one.clocks[0].if_end = one.length;
    };
    film(0, 0, 0, 600);
    film(1, 1, 20, first_length);
    film(2, 1, 400 + later_by_clock, second_length);
    film(3, 2, 100, 450);
    return all;
  }

  std::vector<PairMatch> matches() const {
    std::vector<PairMatch> all{heard(0, 1, 30, 110, -20, 40), heard(0, 2, 410, 540, -400, 40)};
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
};

struct Outcome {
  bool added = false;
  Splits splits;
  Trial now;
};

Outcome told(const Day& day) {
  const std::vector<ClipInput> clips = day.clips();
  const std::vector<PairMatch> matches = day.matches();
  std::vector<Node> nodes;
  for (int i = 0; i < 4; ++i) {
    const ClipInput& clip = clips[static_cast<std::size_t>(i)];
    nodes.push_back({i, clip.camera, 0, to_seconds(clip.length)});
  }
  Outcome result;
  result.splits.resize(4);
  const auto solve_now = [&] {
    result.now.graph = build_graph(nodes, result.splits, matches);
    result.now.solved = solve(result.now.graph, {3, 0});
  };
  solve_now();
  result.added = add_missing(clips, result.now, result.splits);
  if (result.added) solve_now();
  return result;
}

/// Splits of camera 0's clip alone.
std::optional<Split> only_split(const Outcome& result) {
  if (!result.added || result.splits[0].size() != 1) return std::nullopt;
  for (const int other : {1, 2, 3}) CHECK(result.splits[static_cast<std::size_t>(other)].empty());
  return result.splits[0].front();
}

}  // namespace

TEST_CASE("by another camera's clock a clip lost what its sound does not tell") {
  const Outcome result = told({.later_by_clock = 15});
  const auto split = only_split(result);
  REQUIRE(split.has_value());
  CHECK(split->why == Split::Why::clock);
  CHECK(split->supposed());
  CHECK(split->told_by == std::pair{1, 2});
  CHECK(std::abs(split->seconds - 15) < 0.1);
  CHECK(std::abs(split->at - 260) < 5);  // nobody heard it from 110 to 410
  CHECK(std::abs(split->loose - 150) < 5);
  // All of it is in doubt; what follows takes that doubt, what lies before does not.
  const auto& places = result.now.solved.places;
  REQUIRE(places.size() == 5);  // the first clip's two pieces, and the others
  CHECK(std::abs(places[3].start - places[2].start - 395) < 0.5);
  CHECK(std::max(places[2].sigma, places[3].sigma) > 10);
  CHECK(std::min(places[2].sigma, places[3].sigma) < 0.1);
}

TEST_CASE("no clip lost time where the clocks agree to a few seconds, or are otherwise apart than by a loss") {
  CHECK_FALSE(told({.later_by_clock = 3}).added);
  CHECK_FALSE(told({.later_by_clock = -15}).added);   // nothing gains time
  CHECK_FALSE(told({.later_by_clock = 400}).added);   // the clock was set
  CHECK_FALSE(told({.later_by_clock = -3e7}).added);  // and here it fell back
}

TEST_CASE("stamps that may mark ends say nothing of a loss as long as the clips' lengths differ") {
  CHECK_FALSE(told({.later_by_clock = 50, .in_question = true}).added);  // 150 s less 100 s
  CHECK(told({.later_by_clock = 50}).added);
  CHECK(told({.later_by_clock = 15, .in_question = true}).added);
}

TEST_CASE("a camera that would have filmed two clips at once for a moment tells the least that another lost") {
  // Camera 1's first clip goes on to 400.4 s by what was heard.
  const Outcome result = told({.first_length = 380.4});
  const auto split = only_split(result);
  REQUIRE(split.has_value());
  CHECK(split->why == Split::Why::at_once);
  CHECK(std::abs(split->seconds - 0.4) < 0.01);
  CHECK_FALSE(told({.first_length = 380.05}).added);  // a file may end with a moment of the next one
}

TEST_CASE("where another clip holds the two stretches together too, nothing was lost unheard") {
  const PairMatch with_first = heard(1, 3, 85, 98, -80, 40), with_second = heard(2, 3, 10, 120, 300, 40);
  CHECK_FALSE(told({.later_by_clock = 15, .more = {with_first, with_second}}).added);
  // As long as it does not: of two that only one after the other hold them, either may have lost it.
  const PairMatch first_alone = heard(0, 3, 105, 300, -100, 40);
  const auto split = only_split(told({.later_by_clock = 15, .more = {first_alone}}));
  REQUIRE(split.has_value());
  CHECK(split->at > 300);  // it was heard until then
}

TEST_CASE("without clips nothing is told") {
  Splits none;
  CHECK_FALSE(add_missing({}, {}, none));
}
