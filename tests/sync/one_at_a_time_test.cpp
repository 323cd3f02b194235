#include "sync/one_at_a_time.h"

#include <doctest/doctest.h>

#include <vector>

#include "sync/pair_word.h"

using namespace jigtime;
using namespace jigtime::sync;
using jigtime::test::heard;

namespace {

constexpr double noon = 1.7735e9;

/// Two cameras. The first filmed clips 0 and 1, a minute each; the second one clip of ten minutes.
struct Shop {
  double first_at = 100, second_at = 200;  ///< seconds of the long clip at which sound says that 0 and 1 begin
  double first_proof = 40, second_proof = 12;
  double first_wall = noon, second_wall = noon + 100;
  std::optional<int> first_number = 0, second_number = 1;

  std::vector<ClipInput> clips() const {
    std::vector<ClipInput> clips(3);
    for (ClipInput& clip : clips) clip.length = from_seconds(60);
    clips[0].number = first_number;
    clips[1].number = second_number;
    clips[0].clocks = {{WallTime{from_seconds(first_wall)}, from_seconds(1), 1}};
    clips[1].clocks = {{WallTime{from_seconds(second_wall)}, from_seconds(1), 1}};
    clips[2].camera = 1;
    clips[2].length = from_seconds(600);
    return clips;
  }

  std::vector<Refusal> refused() const {
    const std::vector<ClipInput> inputs = clips();
    std::vector<Node> nodes;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      nodes.push_back({static_cast<int>(i), inputs[i].camera, 0, to_seconds(inputs[i].length)});
    }
    const std::vector<PairMatch> matches{heard(0, 2, 5, 55, first_at, first_proof),
                                         heard(1, 2, 5, 55, second_at, second_proof)};
    Trial trial;
    trial.graph = build_graph(nodes, std::vector<std::vector<Split>>(3), matches);
    trial.solved = solve(trial.graph, {2, 1});
    return refuse_clashes(inputs, trial);
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

TEST_CASE("the order of clips counts only where numbers and clock agree on it") {
  // Set back, or reset to its factory date, between the two.
  CHECK(Shop{.second_at = 20, .second_wall = noon - 3600}.refused().empty());
  CHECK(Shop{.second_at = 20, .second_wall = 0}.refused().empty());
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
  CHECK(refuse_clashes(clips, trial).empty());
}
