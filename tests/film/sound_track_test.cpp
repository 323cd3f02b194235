#include "film/sound_track.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/picture_clock.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace std::chrono_literals;

namespace {

constexpr int rate_hz = 48000;

/// Where sound begins after at least 10 ms of quiet, in seconds from the first sample.
std::vector<double> onsets(const std::vector<float>& samples) {
  std::vector<double> found;
  int quiet = rate_hz;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const bool loud = std::abs(samples[i]) > 0.3F;
    if (loud && quiet > rate_hz / 100) found.push_back(static_cast<double>(i) / rate_hz);
    quiet = loud ? 0 : quiet + 1;
  }
  return found;
}

struct Shop {
  test::TempFolder folder;
  film::Camera camera{"bench", {}};

  explicit Shop(std::int64_t rate_ppb = 0) {
    test::MarkedPlan plan;
    plan.width = 64;
    plan.height = 36;
    plan.pictures = 125;
    test::make_marked_clip(folder / "a.mov", plan);
    test::make_marked_clip(folder / "b.mov", plan);
    camera.clips = {test::placed_clip(folder / "a.mov", plan, SessionTime{2s}, rate_ppb),
                    test::placed_clip(folder / "b.mov", plan, SessionTime{10s + 250ms})};
  }
  std::vector<float> read(SessionTime from, Length length, std::size_t at_once = 777) {
    film::SoundTrack track{camera, rate_hz, true};
    track.go_to(from);
    std::vector<float> samples(static_cast<std::size_t>(to_seconds(length) * rate_hz));
    for (std::size_t i = 0; i < samples.size(); i += at_once) {
      REQUIRE(track.read(std::span{samples}.subspan(i, std::min(at_once, samples.size() - i))));
    }
    return samples;
  }
};

}  // namespace

TEST_CASE("clicks are heard where the placement says, and it is silent while the camera is off") {
  Shop shop;
  const auto found = onsets(shop.read(SessionTime{}, 16s));
  const std::vector<double> wanted{2, 3, 4, 5, 6, 10.25, 11.25, 12.25, 13.25, 14.25};
  REQUIRE(found.size() == wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) CHECK(std::abs(found[i] - wanted[i]) < 1e-4);
}

TEST_CASE("a camera whose clock runs wrong is heard at the session's rate") {
  Shop shop{1'000'000};  // 1000 ppm: 4 ms over the 4 s to the last click
  const auto found = onsets(shop.read(SessionTime{2s - 100ms}, 5s));
  REQUIRE(found.size() == 5);
  CHECK(std::abs(found[4] - (0.1 + 4.004)) < 1e-4);
}

TEST_CASE("sound read from the middle lies where it lies when read from the beginning") {
  Shop shop{30'000};
  const auto found = onsets(shop.read(SessionTime{4s + 500ms}, 2s));
  REQUIRE(found.size() == 2);
  CHECK(std::abs(found[0] - 0.5) < 3e-4);
  CHECK(std::abs(found[1] - 1.5) < 3e-4);
}

TEST_CASE("going back and forth never mixes up times") {
  Shop shop;
  film::SoundTrack track{shop.camera, rate_hz, true};
  std::vector<float> samples(rate_hz);
  for (const auto start :
       {SessionTime{12s}, SessionTime{2s + 500ms}, SessionTime{5s + 500ms}, SessionTime{2s + 500ms}}) {
    track.go_to(start);
    REQUIRE(track.read(samples));
    const auto found = onsets(samples);
    REQUIRE(found.size() == 1);
    CHECK(std::abs(found[0] - (start == SessionTime{12s} ? 0.25 : 0.5)) < 1e-4);
  }
}

TEST_CASE("footage that is lost is silent and says why") {
  Shop shop;
  std::filesystem::remove(shop.folder / "a.mov");
  film::SoundTrack track{shop.camera, rate_hz, true};
  std::vector<float> samples(12 * rate_hz);
  REQUIRE(track.read(samples));
  const auto found = onsets(samples);
  REQUIRE(found.size() == 2);
  CHECK(std::abs(found[0] - 10.25) < 1e-4);
  CHECK(track.trouble().find("a.mov") != std::string::npos);
}

TEST_CASE("a track that was told to stop says so") {
  Shop shop;
  std::stop_source stop;
  film::SoundTrack track{shop.camera, rate_hz, true, stop.get_token()};
  stop.request_stop();
  std::vector<float> samples(100);
  const auto read = track.read(samples);
  REQUIRE(!read);
  CHECK(read.error().code() == Code::cancelled);
}
