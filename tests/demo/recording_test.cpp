#include "demo/recording.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace jigtime;
using namespace jigtime::demo;

namespace {

/// A recording of camera 0 from 10 s on, with a rate error that shows.
Scenario one_recording(Seconds length) {
  Scenario scenario = make_scenario(Size::full);
  scenario.cameras[0].rate_ppm = 100;
  RecordingPlan plan;
  plan.first_number = 7;
  plan.begin = 10;
  plan.end = 10 + length;
  scenario.recordings = {plan};
  return scenario;
}

}  // namespace

TEST_CASE("pictures and samples of one number of seconds happen at the same moment, by the camera's rate") {
  const Scenario scenario = one_recording(200);
  const Recording recording{scenario, scenario.recordings[0]};
  CHECK(recording.scene_of_picture(0) == doctest::Approx(10).epsilon(1e-12));
  // 100 s of a clock that is 100 ppm slow are 100.01 s.
  CHECK(recording.scene_of_picture(2'500) == doctest::Approx(110.01).epsilon(1e-12));
  CHECK(recording.scene_of_sample(4'800'000) == doctest::Approx(110.01).epsilon(1e-12));
  CHECK(recording.sample_step() * 48'000 == doctest::Approx(1.0001).epsilon(1e-12));
}

TEST_CASE("a recording ends before its planned end, by less than a picture") {
  const Scenario scenario = one_recording(20.03);
  const Recording recording{scenario, scenario.recordings[0]};
  const Seconds end = recording.scene_of_picture(recording.parts().back().end_picture);
  CHECK(end <= 30.03);
  CHECK(end > 30.03 - 0.0401);
}

TEST_CASE("parts follow each other without losing a picture, and are numbered on") {
  Scenario scenario = one_recording(30);
  scenario.recordings[0].splits = {9.99, 20.0};
  const Recording recording{scenario, scenario.recordings[0]};
  REQUIRE(recording.parts().size() == 3);
  CHECK(recording.parts()[0].end_picture == 249);
  CHECK(recording.parts()[1].first_picture == 249);
  CHECK(recording.parts()[1].end_picture == 500);
  CHECK(recording.parts()[2].first_picture == 500);
  CHECK(recording.parts()[2].path.filename() == "BNCH0009.MP4");
}

TEST_CASE(
    "after a loss pictures and sound are late by exactly the lost pictures, and the recording is that much shorter") {
  Scenario scenario = one_recording(40);
  scenario.recordings[0].camera = 1;
  scenario.cameras[1].rate_ppm = 0;
  const std::int64_t whole = Recording{scenario, scenario.recordings[0]}.parts()[0].end_picture;
  scenario.recordings[0].lost = Lost{20, 12};
  const Recording recording{scenario, scenario.recordings[0]};
  const std::int64_t at = recording.loss_at_picture();
  CHECK(at == 599);  // 20 s of 30000/1001 pictures a second
  CHECK(recording.lost_length() == doctest::Approx(0.4004).epsilon(1e-12));
  CHECK(recording.scene_of_picture(at) - recording.scene_of_picture(at - 1) == doctest::Approx(13 * 1.001 / 30));
  const std::int64_t sample = recording.sample_at_picture(at);
  CHECK(recording.scene_of_sample(sample) - recording.scene_of_sample(sample - 1) ==
        doctest::Approx(0.4004 + 1 / 44'100.0));
  CHECK(recording.parts()[0].end_picture == whole - 12);
}

TEST_CASE("a loss in the first picture leaves the rest at its place") {
  Scenario scenario = one_recording(40);
  scenario.recordings[0].lost = Lost{0, 5};
  const Recording recording{scenario, scenario.recordings[0]};
  CHECK(recording.scene_of_picture(0) == doctest::Approx(10 + 0.2 * 1.0001));
}

TEST_CASE("a camera's clock shows true time and its own error") {
  Scenario scenario = one_recording(20);
  scenario.recordings[0].clock_error = std::chrono::hours{1};
  const Recording recording{scenario, scenario.recordings[0]};
  CHECK(recording.device_time(30) == scenario.zero + std::chrono::seconds{3'630});
}

TEST_CASE("a camera that names files by its clock names them by a wrong clock too") {
  Scenario scenario = make_scenario(Size::full);
  const RecordingPlan& after_reset = *std::find_if(scenario.recordings.begin(), scenario.recordings.end(),
                                                   [](const RecordingPlan& plan) { return plan.first_number == 2; });
  const Recording recording{scenario, after_reset};
  CHECK(recording.parts()[0].path == "REC/2015-01-01/20150101_000009.mkv");
}

TEST_CASE("recordings of one camera never overlap, in both sizes, and stay inside the session") {
  for (const Size size : {Size::full, Size::quick}) {
    const Scenario scenario = make_scenario(size);
    for (std::size_t i = 0; i < scenario.recordings.size(); ++i) {
      const RecordingPlan& plan = scenario.recordings[i];
      CHECK(plan.begin < plan.end);
      CHECK(plan.end <= scenario.length);
      if (i > 0 && scenario.recordings[i - 1].camera == plan.camera) CHECK(scenario.recordings[i - 1].end < plan.begin);
    }
  }
}

TEST_CASE("parts can begin with a sample: a camera with splits has whole samples in a picture") {
  const Scenario scenario = make_scenario(Size::full);
  for (const RecordingPlan& plan : scenario.recordings) {
    const CameraPlan& camera = scenario.cameras[static_cast<std::size_t>(plan.camera)];
    if (!plan.splits.empty()) CHECK(camera.sample_rate_hz * camera.rate_den % camera.rate_num == 0);
  }
}
