#include "demo/card.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <fstream>

#include "media/probe.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::demo;

namespace {

Scenario short_take(int camera) {
  Scenario scenario = make_scenario(Size::quick);
  RecordingPlan plan;
  plan.camera = camera;
  plan.first_number = 41;
  plan.begin = 10;
  plan.end = 12.1;
  plan.clock_error = std::chrono::hours{1};
  scenario.recordings = {plan};
  return scenario;
}

std::filesystem::path only_file_with(const std::filesystem::path& folder, const std::string& ending) {
  for (const auto& entry : std::filesystem::recursive_directory_iterator{folder}) {
    if (entry.path().extension() == ending) return entry.path();
  }
  return {};
}

}  // namespace

TEST_CASE("a recording split in two loses no picture, and its first part's sound runs past its pictures") {
  const test::TempFolder folder;
  Scenario scenario = short_take(0);
  scenario.recordings[0].splits = {1.0};
  const Done done = write_recording(scenario, tell(scenario), scenario.recordings[0], folder.path());
  REQUIRE_MESSAGE(done.ok(), (done.ok() ? "" : done.error().message()));
  const Result<media::MediaInfo> first = media::probe(folder / "DCIM/100BENCH/BNCH0041.MP4");
  const Result<media::MediaInfo> second = media::probe(folder / "DCIM/100BENCH/BNCH0042.MP4");
  REQUIRE(first.ok());
  REQUIRE(second.ok());
  CHECK(first->length == std::chrono::milliseconds{1'000});
  CHECK(second->length == std::chrono::milliseconds{1'080});
  CHECK(first->sound->end > ClipTime{std::chrono::milliseconds{1'001}});
  CHECK(first->sound->end < ClipTime{std::chrono::milliseconds{1'050}});
}

TEST_CASE("files carry the time of the camera's own clock, inside and outside") {
  const test::TempFolder folder;
  const Scenario scenario = short_take(1);
  REQUIRE(write_recording(scenario, tell(scenario), scenario.recordings[0], folder.path()).ok());
  const std::filesystem::path file = folder / "CLIPS/TAKE0041.MOV";
  const Result<media::MediaInfo> info = media::probe(file);
  REQUIRE(info.ok());
  const auto container = std::find_if(info->clocks.begin(), info->clocks.end(),
                                      [](const ClockReading& clock) { return clock.source == ClockSource::container; });
  REQUIRE(container != info->clocks.end());
  const WallTime begin = scenario.zero + std::chrono::hours{1} + std::chrono::seconds{10};
  CHECK(container->since_epoch == begin.time_since_epoch());
  const auto written = std::chrono::file_clock::to_sys(std::filesystem::last_write_time(file));
  CHECK(WallTime{written} >= begin);
  CHECK(WallTime{written} <= begin + std::chrono::seconds{2});
}

TEST_CASE("a recording that breaks off cannot be read, a silent one has no sound") {
  const test::TempFolder folder;
  Scenario broken = short_take(0);
  broken.recordings[0].ending = Ending::cut_off;
  REQUIRE(write_recording(broken, tell(broken), broken.recordings[0], folder.path()).ok());
  const Result<media::MediaInfo> nothing = media::probe(folder / "DCIM/100BENCH/BNCH0041.MP4");
  REQUIRE(!nothing.ok());
  CHECK(nothing.error().code() == Code::unreadable);

  Scenario silent = short_take(2);
  silent.recordings[0].sound = SoundTrack::missing;
  REQUIRE(write_recording(silent, tell(silent), silent.recordings[0], folder.path()).ok());
  const Result<media::MediaInfo> mute = media::probe(only_file_with(folder.path(), ".mkv"));
  REQUIRE(mute.ok());
  CHECK(!mute->sound.has_value());
  CHECK(mute->picture.has_value());
}

TEST_CASE("a card that cannot be written says which folder") {
  const test::TempFolder folder;
  std::ofstream{folder / "taken"} << "a file where a folder should be";
  const Scenario scenario = short_take(0);
  const Done done = write_recording(scenario, tell(scenario), scenario.recordings[0], folder / "taken");
  REQUIRE(!done.ok());
  CHECK(done.error().code() == Code::denied);
  CHECK(done.error().message().find("taken") != std::string::npos);
}
