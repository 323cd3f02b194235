#include "demo/microphone.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace jigtime::demo;

namespace {

CameraPlan quiet_camera(int sample_rate_hz) {
  CameraPlan camera;
  camera.at = {0, -3.4263, 0};  // ten milliseconds away from the middle, at 342.63 m/s
  camera.sample_rate_hz = sample_rate_hz;
  camera.microphone = {1, 0, 0.4 * sample_rate_hz, 0};
  return camera;
}

Story one_click(Seconds at) {
  Story story;
  SoundEvent event;
  event.kind = SoundKind::tap;
  event.begin = at;
  event.length = 0.05;
  event.level = 0.5;
  event.seed = 3;
  story.sounds.push_back(event);
  return story;
}

/// First sample that is louder than a hundredth of the loudest.
std::size_t onset(const std::vector<float>& heard) {
  float loudest = 0;
  for (const float sample : heard) loudest = std::max(loudest, std::abs(sample));
  std::size_t i = 0;
  while (std::abs(heard[i]) < loudest / 100) ++i;
  return i;
}

std::vector<float> hear(const CameraPlan& camera, const Story& story, Seconds first, std::size_t count,
                        std::size_t block) {
  Microphone microphone{camera, story, 1};
  const Seconds step = 1.0 / camera.sample_rate_hz;
  std::vector<float> heard(count);
  for (std::size_t i = 0; i < count; i += block) {
    const std::size_t size = std::min(block, count - i);
    microphone.hear(first + static_cast<double>(i) * step, step, std::span{heard}.subspan(i, size));
  }
  return heard;
}

}  // namespace

TEST_CASE("sound arrives after its path at the speed of sound, at every rate") {
  for (const int rate : {32'000, 44'100, 48'000}) {
    const std::vector<float> heard =
        hear(quiet_camera(rate), one_click(5.0), 4.9, static_cast<std::size_t>(rate / 2), 960);
    // 100 ms until the click and 10 ms on the way; the filters add less than a fifth of a millisecond.
    const double at = static_cast<double>(onset(heard)) / rate;
    CHECK(at > 0.1099);
    CHECK(at < 0.1103);
  }
}

TEST_CASE("the sound does not depend on how it is asked for") {
  const CameraPlan camera = quiet_camera(48'000);
  const Story story = one_click(1.0);
  const std::vector<float> one = hear(camera, story, 0.9, 20'000, 20'000);
  const std::vector<float> many = hear(camera, story, 0.9, 20'000, 333);
  for (std::size_t i = 0; i < one.size(); ++i) REQUIRE(one[i] == doctest::Approx(many[i]).epsilon(1e-4));
}

TEST_CASE("a microphone that is switched on late hears nothing of what is over") {
  const std::vector<float> heard = hear(quiet_camera(48'000), one_click(1.0), 3.0, 4'800, 960);
  for (const float sample : heard) REQUIRE(sample == 0.0F);
}

TEST_CASE("twice as far is half as loud") {
  CameraPlan camera = quiet_camera(48'000);
  const auto loudest = [](const std::vector<float>& heard) {
    float most = 0;
    for (const float sample : heard) most = std::max(most, std::abs(sample));
    return most;
  };
  const float near = loudest(hear(camera, one_click(1.0), 0.9, 20'000, 960));
  camera.at.y *= 2;
  const float far = loudest(hear(camera, one_click(1.0), 0.9, 20'000, 960));
  CHECK(far / near == doctest::Approx(0.5).epsilon(0.02));
}
