#include "actions/why_there.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

struct Scene {
  journal::Register known;
  journal::SessionRecord record;

  Scene() {
    known.cameras = {{journal::CameraId{1}, "bench"}, {journal::CameraId{2}, "overhead"}};
    record.session.reference = journal::CameraId{1};
    record.clips = {clip(1, 1, "a1.mp4"), clip(2, 2, "b1.mp4")};
  }
  static journal::Clip clip(std::int64_t id, std::int64_t camera, const std::string& file) {
    journal::Clip clip;
    clip.id = journal::ClipId{id};
    clip.camera = journal::CameraId{camera};
    clip.length = 10min;
    clip.parts.emplace_back();
    clip.parts.back().path = "/cards/" + file;
    return clip;
  }
  journal::Placement& place(journal::Basis basis, Length start, Length sigma) {
    journal::Placement placement;
    placement.clip = journal::ClipId{2};
    placement.basis = basis;
    if (basis != journal::Basis::none) {
      placement.pieces = {{ClipTime{}, ClipTime{10min}, SessionTime{start}, -36'800, sigma}};
    }
    record.placements = {placement};
    return record.placements.back();
  }
  std::string told() const {
    std::string all;
    for (const std::string& sentence : why_there(known, record, record.clips[1])) all += sentence + "\n";
    return all;
  }
};

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("a clip placed by sound tells with whom, how surely, and how far it may be off") {
  Scene scene;
  scene.place(journal::Basis::audio, 547s, 2400us).evidence = {{journal::ClipId{1}, 165s, 69'200, 51, 49}};
  const std::string told = scene.told();
  CHECK(holds(told, "begins at 0:09:07.000"));
  CHECK(holds(told, "a1.mp4 of bench heard the same sounds for 2 min 45 s: 49 of 51 moments"));
  CHECK(holds(told, "69 times as high as chance"));
  CHECK(holds(told, "off by about 2.4 ms, and hardly ever by more than 4.8 ms"));
  CHECK(holds(told, "36.8 millionths fast"));  // the session clock runs slower than the camera's
  CHECK(holds(told, "132 ms an hour"));
}

TEST_CASE("a clip placed by its clock says so and what to do") {
  Scene scene;
  scene.place(journal::Basis::clock, 60s, 1300ms).notes = {"It has no sound."};
  const std::string told = scene.told();
  CHECK(holds(told, "No sound could tell its place"));
  CHECK(holds(told, "1.30 s"));
  CHECK(holds(told, "by hand"));
  CHECK(holds(told, "It has no sound."));
  CHECK(!holds(told, "was heard"));
}

TEST_CASE("a clip without a place says that it is not guessed") {
  Scene scene;
  scene.place(journal::Basis::none, 0s, 0s).notes = {"There is nothing but silence in it."};
  const std::string told = scene.told();
  CHECK(holds(told, "lies nowhere"));
  CHECK(holds(told, "nothing but silence"));
  CHECK(!holds(told, "begins at"));
}

TEST_CASE("a clip placed by hand is held, and one not lined up yet says that") {
  Scene scene;
  scene.place(journal::Basis::manual, 5s, 0s);
  CHECK(holds(scene.told(), "placed there by hand"));
  scene.record.placements.clear();
  CHECK(scene.told() == "It has not been lined up yet.\n");
}
