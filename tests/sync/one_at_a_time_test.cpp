#include "sync/one_at_a_time.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "sync/pair_word.h"

using namespace jigtime;
using namespace jigtime::sync;
using jigtime::test::heard;

namespace {

constexpr double noon = 1.7735e9;

/// All clips at once, by two or three cameras, the second of which is the reference.
Trial solved_by(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches) {
  std::vector<Node> nodes;
  for (int i = 0; i < static_cast<int>(clips.size()); ++i) {
    const ClipInput& clip = clips[static_cast<std::size_t>(i)];
    nodes.push_back({i, clip.camera, 0, to_seconds(clip.length)});
  }
  Trial trial;
  trial.graph = build_graph(nodes, find_splits(matches, static_cast<int>(clips.size())), matches);
  trial.solved = solve(trial.graph, {3, 1});
  return trial;
}

/// Two cameras. The first filmed clips 0 and 1, a minute each; the second one clip of ten minutes.
struct Shop {
  double first_at = 100, second_at = 200;  ///< seconds of the long clip at which sound says that 0 and 1 begin
  double first_proof = 40, second_proof = 12;
  double first_wall = noon, second_wall = noon + 100;
  std::optional<int> first_number = 0, second_number = 1;
  bool by_hand = false;             ///< whether clip 1 was placed so
  std::optional<double> between{};  ///< when a clip without a place was filmed
  std::optional<std::pair<double, double>>
      third_camera{};  ///< when it filmed two clips, 110 and 240 s into the long one

  ClipInput clip(int camera, double wall, std::optional<int> number) const {
    ClipInput clip;
    clip.camera = camera;
    clip.length = from_seconds(60);
    clip.number = number;
    clip.clocks = {{WallTime{from_seconds(wall)}, from_seconds(1), 1}};
    return clip;
  }

  std::vector<ClipInput> clips() const {
    std::vector<ClipInput> clips{clip(0, first_wall, first_number), clip(0, second_wall, second_number), {}};
    clips[2].camera = 1;
    clips[2].length = from_seconds(600);
    if (by_hand) clips[1].manual = ManualPlace{};
    if (between) clips.push_back(clip(0, *between, 1));
    if (third_camera) {
      clips.push_back(clip(2, third_camera->first, 0));
      clips.push_back(clip(2, third_camera->second, 1));
    }
    return clips;
  }

  std::vector<Refusal> refused() const {
    const std::vector<ClipInput> inputs = clips();
    std::vector<PairMatch> matches{heard(0, 2, 5, 55, first_at, first_proof),
                                   heard(1, 2, 5, 55, second_at, second_proof)};
    if (third_camera) {
      const int last = static_cast<int>(inputs.size()) - 1;
      matches.push_back(heard(last - 1, 2, 5, 55, 110, 50));
      matches.push_back(heard(last, 2, 5, 55, 240, 50));
    }
    return refuse_clashes(inputs, matches, solved_by(inputs, matches));
  }
};

}  // namespace

TEST_CASE("clips of one camera that follow each other clash with nothing") {
  CHECK(Shop{}.refused().empty());
  CHECK(Shop{.second_at = 159}.refused().empty());  // a file may seem a second longer than it is
}

TEST_CASE("of two clips that one camera would have filmed at once the worse proven one is refused") {
  const auto refused = Shop{.second_at = 130}.refused();
  REQUIRE(refused.size() == 1);
  CHECK(refused[0].match == 1);
  CHECK(refused[0].clash.clip == 0);
  CHECK(refused[0].clash.other == 1);
  const auto other_way = Shop{.second_at = 130, .first_proof = 12, .second_proof = 40}.refused();
  REQUIRE(other_way.size() == 1);
  CHECK(other_way[0].match == 0);
}

TEST_CASE("where both are about as well proven, it is not known which is wrong: both are refused") {
  CHECK(Shop{.second_at = 130, .first_proof = 14, .second_proof = 12}.refused().size() == 2);
}

TEST_CASE("a clip is not filmed before one that its camera numbered and dated earlier") {
  const auto refused = Shop{.second_at = 20}.refused();
  REQUIRE(refused.size() == 1);
  CHECK(refused[0].match == 1);
}

TEST_CASE("between two clips there must be room for what their camera filmed between them") {
  // A third clip of a minute, that could not be heard.
  for (const double second_at : {170.0, 215.0, 225.0}) {
    CAPTURE(second_at);
    Shop shop{.second_at = second_at, .second_wall = noon + 200, .second_number = 2};
    shop.between = noon + 100;
    const auto refused = shop.refused();
    CHECK(refused.empty() == (second_at > 220));
    if (!refused.empty()) CHECK(refused[0].clash.why == Impossible::order);
  }
}

TEST_CASE("two clocks that agree against the sound are believed, one is not") {
  // Sound puts the second clips of two cameras 100 s after the first ones, their clocks 450 s more.
  for (const double set_on : {450.0, 1.0, 1800.0, 50000.0}) {
    for (const double other_set_on : {set_on, set_on + 20}) {
      CAPTURE(set_on);
      CAPTURE(other_set_on);
      Shop shop{.second_wall = noon + 100 + set_on};
      shop.third_camera = {noon, noon + 130 + other_set_on};
      const auto refused = shop.refused();
      CHECK(refused.empty() == (set_on != 450 || other_set_on != set_on));
      if (!refused.empty()) CHECK(refused[0].clash.why == Impossible::two_clocks);
    }
  }
}

TEST_CASE("the order of clips counts only where numbers and clock agree on it") {
  // Set back, or reset to its factory date, between the two.
  CHECK(Shop{.second_at = 20, .second_wall = noon - 3600}.refused().empty());
  CHECK(Shop{.second_at = 20, .second_wall = 0}.refused().empty());
  // The same where files are named by that clock, so that the names say so too; and where it begins at another day.
  for (const double factory : {1420070402.0, 1423000000.0}) {  // 2015-01-01 00:00:02 UTC
    CHECK(Shop{.second_at = 20, .first_wall = factory}.refused().empty());
  }
  // Yesterday's clip is not later than today's.
  CHECK(Shop{.second_at = 20, .first_wall = noon - 90000}.refused().size() == 1);
  // It began anew before each of them: later after that is not later.
  CHECK(Shop{.second_at = 20, .first_wall = 1420070402, .second_wall = 1420070702}.refused().empty());
  // Counting from one again.
  CHECK(Shop{.second_at = 20, .first_number = 9999, .second_number = 1}.refused().empty());
  CHECK(Shop{.second_at = 20, .first_number = {}}.refused().empty());
  // Written anew one after the other, faster than they were filmed.
  CHECK(Shop{.second_at = 20, .second_wall = noon + 9}.refused().empty());
}

TEST_CASE("what the builder tied by hand is not refused") {
  const Shop shop{.second_at = 130};
  const std::vector<ClipInput> clips = shop.clips();
  std::vector<Node> nodes;
  for (int i = 0; i < 3; ++i) nodes.push_back({i, clips[static_cast<std::size_t>(i)].camera, 0, i == 2 ? 600.0 : 60.0});
  Trial trial;
  trial.graph = build_graph(nodes, std::vector<std::vector<Split>>(3), {});
  for (const int clip : {0, 1}) {
    Edge tie{clip, 2, -1, 0.01, 0, 0, 0, 1e6, {}};
    tie.observations.push_back({10, clip == 0 ? 100.0 : 130.0, 1});
    trial.graph.edges.push_back(tie);
  }
  trial.solved = solve(trial.graph, {2, 1});
  CHECK(refuse_clashes(clips, {}, trial).empty());
}

TEST_CASE("a long clip's pair is as well proven as it is, not as one of its stretches is") {
  // Clips are cut for the solution; a song in the short clip must not win over an hour of work for that.
  std::vector<ClipInput> clips(3);
  clips[0].length = from_seconds(3600);
  clips[1].length = from_seconds(240);
  clips[2].length = from_seconds(4000);
  clips[2].camera = 1;
  const std::vector<PairMatch> matches{heard(0, 2, 5, 3595, 100, 60), heard(1, 2, 5, 235, 500, 33)};
  const auto refused = refuse_clashes(clips, matches, solved_by(clips, matches));
  REQUIRE(refused.size() == 1);
  CHECK(refused[0].match == 1);
}

TEST_CASE("where a clip would have lost time by a weak piece, that piece goes, and no other pair") {
  // Clip 0 really ends before clip 1 begins; a bar of a song puts its end 40 s later.
  std::vector<ClipInput> clips(3);
  for (ClipInput& clip : clips) clip.length = from_seconds(600);
  clips[2].camera = 1;
  clips[2].length = from_seconds(2000);
  std::vector<PairMatch> matches{heard(0, 2, 5, 250, 0, 40), heard(1, 2, 5, 590, 610, 30)};
  matches[0].segments.push_back(heard(0, 2, 350, 555, 40, 12).segments.front());
  const auto refused = refuse_clashes(clips, matches, solved_by(clips, matches));
  REQUIRE(refused.size() == 1);
  CHECK(refused[0].match == 0);
  CHECK(refused[0].segment == 1);
}

TEST_CASE("a loss that has no part in a clash stays") {
  // Clip 0 lost 10 s, which a weak piece tells; clip 1 is put on its beginning by a song.
  std::vector<ClipInput> clips(3);
  for (ClipInput& clip : clips) clip.length = from_seconds(600);
  clips[1].length = from_seconds(120);
  clips[2].camera = 1;
  clips[2].length = from_seconds(2000);
  std::vector<PairMatch> matches{heard(0, 2, 5, 350, 0, 40), heard(1, 2, 5, 115, 100, 30)};
  matches[0].segments.push_back(heard(0, 2, 380, 590, 10, 12).segments.front());
  const auto solve_with = [&](const std::vector<PairMatch>& left) { return solved_by(clips, left); };
  const Cleared cleared = without_clashes(clips, matches, solve_with, {});
  CHECK(cleared.matches[0].segments.size() == 2);
  CHECK(cleared.matches[1].segments.empty());
  CHECK(cleared.refused.size() == 1);
}

TEST_CASE("a clip that the builder placed by hand clashes with nothing") {
  Shop shop{.second_at = 130};
  shop.by_hand = true;
  CHECK(shop.refused().empty());
}

TEST_CASE("what clashes is taken out until nothing does, unless that would be most of what is proven") {
  // Sixteen pairs of clips of two cameras that film a minute in every two. The second camera's clips are a minute too
  // long, so that they overlap, in as many as are told.
  for (const int overlapping : {0, 3, 15}) {
    CAPTURE(overlapping);
    std::vector<ClipInput> clips;
    std::vector<PairMatch> matches;
    const double whole = 16 * 120;
    clips.emplace_back().length = from_seconds(whole);
    for (int i = 1; i <= 16; ++i) {
      const double length = i <= overlapping ? 130 : 60;
      clips.emplace_back().length = from_seconds(length);
      clips.back().camera = 1;
      matches.push_back(heard(0, i, 120.0 * i - 115, 120.0 * i - 70, -120.0 * (i - 1), 20));
    }
    const auto solve_with = [&](const std::vector<PairMatch>& left) { return solved_by(clips, left); };
    const Cleared cleared = without_clashes(clips, matches, solve_with, {});
    CHECK(cleared.in_question == (overlapping == 15));
    const auto left = std::count_if(cleared.matches.begin(), cleared.matches.end(),
                                    [](const PairMatch& match) { return !match.segments.empty(); });
    CHECK(left + std::ssize(cleared.refused) == 16);
    CHECK(refuse_clashes(clips, cleared.matches, cleared.trial).empty() == (overlapping != 15));
    CHECK(cleared.refused.empty() == (overlapping != 3));
  }
}
