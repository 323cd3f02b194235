#include "app/view/unplaced.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;

namespace {

report::UnplacedClip clip(const std::string& camera, int number, const std::string& why) {
  report::UnplacedClip made;
  made.camera = camera;
  made.name = camera + std::to_string(number);
  made.why = why;
  return made;
}

std::vector<report::UnplacedClip> many() {
  std::vector<report::UnplacedClip> clips;
  for (int i = 0; i < 87; ++i) {
    clips.push_back(clip("bench", i, "Nothing was heard."));
    clips.push_back(clip("side", i, i == 1 ? "It has no sound." : "Nothing was heard."));
  }
  clips.push_back(clip("overhead", 0, "Nothing was heard."));
  return clips;
}

std::string names(const UnplacedGroup& group) {
  std::string all;
  for (const UnplacedLine& line : group.lines) all += line.clip->name + (line.tells_why ? "! " : " ");
  return all;
}

}  // namespace

TEST_CASE("many clips without a place are listed by camera, the first few of each") {
  const auto clips = many();
  const auto groups = by_camera(clips, {});
  REQUIRE(groups.size() == 3);
  CHECK((groups[0].camera == "bench" && groups[0].count == 87 && groups[0].folds()));
  CHECK(names(groups[0]) == "bench0! bench1 bench2 ");
  CHECK(names(groups[1]) == "side0! side1! side2! ");
  CHECK((groups[2].count == 1 && !groups[2].folds()));
  CHECK(names(groups[2]) == "overhead0! ");
}

TEST_CASE("an unfolded camera shows all of its clips and leaves the others folded") {
  const auto clips = many();
  const auto groups = by_camera(clips, {"side", "a camera that has none"});
  CHECK(groups[0].lines.size() == shown_folded);
  REQUIRE(groups[1].lines.size() == 87);
  CHECK(groups[1].lines.back().clip->name == "side86");
  CHECK_FALSE(groups[1].lines.back().tells_why);
}

TEST_CASE("a day on which every clip has its place lists nothing") { CHECK(by_camera({}, {}).empty()); }
