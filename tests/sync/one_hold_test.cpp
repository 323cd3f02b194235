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
  double later_by_clock = 0;    ///< camera 1's second clip, than by sound
  double first_length = 100;    ///< of camera 1's first clip
  double second_length = 150;   ///< of its second
  bool in_question = false;     ///< its stamps may mark ends
  std::vector<Split> losses{};  ///< of its first clip
  std::vector<PairMatch> more{};
  double doubt = 0;                         ///< of the clip on which all hangs, and of camera 1's second
  std::optional<double> second_of_third{};  ///< when camera 2 began another clip by its clock

  std::vector<ClipInput> clips() const {
    std::vector<ClipInput> all(second_of_third ? 5 : 4);
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
    film(3, 2, 100, second_of_third ? 200 : 450);
    if (second_of_third) film(4, 2, *second_of_third, 100);
    return all;
  }

  std::vector<PairMatch> matches() const {
    std::vector<PairMatch> all{heard(0, 1, 30, 110, -20, 40), heard(0, 2, 410, 540, -400, 40)};
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }
};

std::vector<Hold> told(const Day& day) {
  const std::vector<ClipInput> clips = day.clips();
  const std::vector<PairMatch> matches = day.matches();
  std::vector<Node> nodes;
  for (int i = 0; i < static_cast<int>(clips.size()); ++i) {
    const ClipInput& clip = clips[static_cast<std::size_t>(i)];
    nodes.push_back({i, clip.camera, 0, to_seconds(clip.length)});
  }
  Splits splits(clips.size());
  splits[1] = day.losses;
  Trial now;
  now.graph = build_graph(nodes, splits, matches);
  now.solved = solve(now.graph, {3, 0});
  for (const std::size_t in_doubt : {0u, 2u}) now.solved.places[in_doubt].sigma += day.doubt;
  return find_holds(clips, splits, now);
}

}  // namespace

TEST_CASE("by another camera's clock a clip may have lost what its sound does not tell") {
  const auto holds = told({.later_by_clock = 15});
  REQUIRE(holds.size() == 1);
  const Hold& hold = holds.front();
  CHECK(hold.clip == 0);
  CHECK(hold.why == Note::Supposed::clock);
  CHECK(hold.before == 1);
  CHECK(hold.after == 2);
  CHECK(std::abs(hold.seconds - 15) < 0.1);
  CHECK(std::abs(hold.gap.from - 110) < 5);  // nobody heard it from there to 410
  CHECK(std::abs(hold.gap.to - 410) < 5);
  // The longer half of the clip on which all hangs stays; the other one and what hangs on it is in doubt.
  REQUIRE(hold.beyond.size() == 2);
  CHECK(hold.beyond[0].clip == 0);
  CHECK(hold.beyond[0].within.from == 0);
  CHECK(hold.beyond[0].within.to == hold.gap.to);
  CHECK(hold.beyond[1].clip == 1);
  // Be that clip in doubt itself.
  const auto doubted = told({.later_by_clock = 15, .doubt = 0.1});
  REQUIRE(doubted.size() == 1);
  REQUIRE(doubted[0].beyond.size() == 2);
  CHECK(doubted[0].beyond[1].clip == 1);
}

TEST_CASE("no clip lost time where the clocks agree to a few seconds, or are otherwise apart than by a loss") {
  CHECK(told({.later_by_clock = 3}).empty());
  CHECK(told({.later_by_clock = -15}).empty());   // nothing gains time
  CHECK(told({.later_by_clock = 400}).empty());   // the clock was set
  CHECK(told({.later_by_clock = -3e7}).empty());  // and here it fell back
}

TEST_CASE("stamps that may mark ends say nothing of a loss that the clips' lengths explain") {
  CHECK(told({.later_by_clock = 50, .in_question = true}).empty());  // 150 s less 100 s
  CHECK(told({.later_by_clock = 50}).size() == 1);
  CHECK(told({.later_by_clock = 15, .in_question = true}).size() == 1);
  // Nor where the clip lost as much itself: a stamp of its end lies beside.
  Split own{50, 12};
  CHECK(told({.later_by_clock = 15, .losses = {own}}).empty());
}

TEST_CASE("a camera that would have filmed two clips at once for a moment tells the least that another lost") {
  // Camera 1's first clip goes on to 400.4 s by what was heard.
  const auto holds = told({.first_length = 380.4});
  REQUIRE(holds.size() == 1);
  CHECK(holds[0].clip == 0);
  CHECK(holds[0].why == Note::Supposed::at_once);
  CHECK(std::abs(holds[0].seconds - 0.4) < 0.01);
  CHECK(told({.first_length = 380.05}).empty());  // a file may end with a moment of the next one
  // Of both words the larger.
  const auto both = told({.later_by_clock = 15, .first_length = 380.4});
  REQUIRE(both.size() == 1);
  CHECK(both[0].why == Note::Supposed::clock);
}

TEST_CASE("where another clip holds the two stretches together too, nothing was lost unheard") {
  const PairMatch with_first = heard(1, 3, 85, 98, -80, 40), with_second = heard(2, 3, 10, 120, 300, 40);
  CHECK(told({.later_by_clock = 15, .more = {with_first, with_second}}).empty());
  // Not even where what it says contradicts the rest by just the loss: that is told otherwise.
  const PairMatch contradicts = heard(2, 3, 10, 120, 315, 40);
  CHECK(told({.later_by_clock = 15, .more = {with_first, contradicts}}).empty());
  // As long as it heard the first clip alone it tells nothing of the second.
  const auto holds = told({.later_by_clock = 15, .more = {heard(0, 3, 105, 300, -100, 40)}});
  REQUIRE(holds.size() == 1);
  CHECK(holds[0].gap.from > 290);  // it was heard until then
}

TEST_CASE("a clock is not heard where another one says that no such time passed") {
  // Camera 2 filmed on both sides as well, by a clock that went on as the sound does.
  Day day{.later_by_clock = 60, .more = {heard(0, 3, 105, 120, -100, 40), heard(0, 4, 450, 500, -445, 40)}};
  day.second_of_third = 445;
  CHECK(told(day).empty());
  day.second_of_third = 445 + 60;
  CHECK(told(day).size() == 1);
}

TEST_CASE("without clips nothing is told") { CHECK(find_holds({}, {}, {}).empty()); }
