#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "detect/detect.h"
#include "detect/made_sound.h"

namespace jigtime::detect {
namespace {

using test::MadeSound;

std::vector<Finding> riveting(const MadeSound& sound) { return test::only(Kind::riveting, test::found_in(sound)); }
std::vector<Finding> signals(const MadeSound& sound) { return test::only(Kind::signal, test::found_in(sound)); }
std::vector<Finding> pauses(const MadeSound& sound) { return test::only(Kind::pause, test::found_in(sound)); }

MadeSound quiet(double seconds) { return MadeSound{seconds}.noise(0.002); }

}  // namespace

TEST_CASE("three bursts within seconds are one stretch of riveting with three bursts") {
  const auto found = riveting(quiet(20).blows(5, 5.8, 30, 0.2).blows(7, 7.7, 30, 0.2).blows(9, 9.9, 30, 0.2));
  REQUIRE(found.size() == 1);
  CHECK(found[0].count == 3);
  CHECK(to_seconds(found[0].begin) == doctest::Approx(5).epsilon(0.06));
  CHECK(to_seconds(found[0].end) == doctest::Approx(9.9).epsilon(0.06));
  CHECK(found[0].confidence > 0.7);
  CHECK(found[0].confidence < 1);
}

TEST_CASE("bursts a minute apart are stretches of their own") {
  CHECK(riveting(quiet(90).blows(5, 6, 30, 0.2).blows(70, 71, 30, 0.2)).size() == 2);
}

TEST_CASE("bursts are found at every rate that rivet guns have") {
  // US Navy training manual 14018: slow guns 2,500 blows a minute, fast ones up to 5,000; builders' guns from 900.
  for (const double rate_hz : {16.0, 24.0, 33.0, 41.7, 60.0, 80.0}) {
    CAPTURE(rate_hz);
    CHECK(riveting(quiet(12).blows(5, 6.2, rate_hz, 0.2)).size() == 1);
  }
}

TEST_CASE("a rate that climbs as the trigger is pulled is still one burst") {
  MadeSound sound = quiet(12);
  double t = 5;
  for (double rate_hz = 18; t < 6.3; rate_hz = std::min(34.0, rate_hz + 0.8)) {
    sound.knock(t, 0.2);
    t += 1 / rate_hz;
  }
  const auto found = riveting(sound);
  REQUIRE(found.size() == 1);
  CHECK(found[0].count == 1);
}

TEST_CASE("a burst in strong noise is found and trusted less than one in the clear") {
  const auto clear = riveting(quiet(20).blows(8, 9.2, 30, 0.2));
  const auto noisy = riveting(MadeSound{20}.noise(0.12).blows(8, 9.2, 30, 0.2));
  REQUIRE(clear.size() == 1);
  REQUIRE(noisy.size() == 1);
  CHECK(noisy[0].confidence < clear[0].confidence);
}

TEST_CASE("a machine that strokes as evenly as a rivet gun for a minute is not riveting") {
  for (const double stroke_hz : {16.0, 24.0, 40.0})
    CHECK(riveting(quiet(80).blows(10, 70, stroke_hz, 0.1, 0.01)).empty());
}

TEST_CASE("a knock over a running machine is not riveting") {
  MadeSound sound = quiet(80).blows(2, 80, 20, 0.02, 0.01);
  for (double t = 30; t < 70; t += 3.7) sound.knock(t, 0.4, 0.05);
  CHECK(riveting(sound).empty());
}

TEST_CASE("steady sounds, talk at three pitches, and a hand hammer are not riveting") {
  CHECK(riveting(MadeSound{60}.noise(0.3)).empty());
  CHECK(riveting(quiet(60).hum(0.3, 95).hum(0.2, 190)).empty());
  for (const double pitch_hz : {95.0, 130.0, 210.0}) CHECK(riveting(quiet(40).voice(5, 35, pitch_hz, 0.2)).empty());
  CHECK(riveting(quiet(40).blows(5, 35, 3, 0.3)).empty());
}

TEST_CASE("a burst that runs into the end of the sound is kept") {
  CHECK(riveting(quiet(6).blows(4.8, 6, 30, 0.2)).size() == 1);
}

TEST_CASE("three even claps that stand alone are a signal") {
  const auto found = signals(quiet(20).knock(8, 0.3).knock(8.45, 0.28).knock(8.9, 0.32));
  REQUIRE(found.size() == 1);
  CHECK(to_seconds(found[0].begin) == doctest::Approx(8).epsilon(0.01));
  CHECK(to_seconds(found[0].end) == doctest::Approx(9).epsilon(0.02));
  CHECK(found[0].confidence > 0.7);
}

TEST_CASE("two claps, four claps, a gallop, unlike levels and claps too slow or too fast are no signal") {
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.45, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.45, 0.3).knock(8.9, 0.3).knock(9.35, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.3, 0.3).knock(8.9, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.45, 0.06).knock(8.9, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.9, 0.3).knock(9.8, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.15, 0.3).knock(8.3, 0.3)).empty());
}

TEST_CASE("three claps amid other knocks are no signal") {
  CHECK(signals(quiet(20).knock(7.4, 0.3).knock(8, 0.3).knock(8.45, 0.3).knock(8.9, 0.3)).empty());
  CHECK(signals(quiet(20).knock(8, 0.3).knock(8.45, 0.3).knock(8.9, 0.3).knock(9.6, 0.3)).empty());
}

TEST_CASE("riveting is no signal") { CHECK(signals(quiet(20).blows(5, 6, 30, 0.2).blows(7, 8, 30, 0.2)).empty()); }

TEST_CASE("six quiet minutes between work are proposed as a break, five minutes less a little are not") {
  MadeSound sound = quiet(60 + 360 + 30);
  for (double t = 3; t < 60; t += 2.3) sound.knock(t, 0.2);
  for (double t = 420; t < 450; t += 2.3) sound.knock(t, 0.2);
  const auto found = pauses(sound);
  REQUIRE(found.size() == 1);
  CHECK(to_seconds(found[0].begin) == doctest::Approx(60).epsilon(0.06));
  CHECK(to_seconds(found[0].end) == doctest::Approx(420).epsilon(0.01));
  CHECK(pauses(quiet(290)).empty());
}

TEST_CASE("a compressor that starts in a break does not end it, and work does") {
  MadeSound sound = quiet(400);
  sound.blows(100, 180, 20, 0.1, 0.01);
  CHECK(pauses(sound).size() == 1);
  for (double t = 200; t < 230; t += 1.7) sound.knock(t, 0.2);
  CHECK(pauses(sound).empty());
}

TEST_CASE("ten minutes of digital silence are a muted camera and no break") {
  CHECK(test::found_in(MadeSound{600}).empty());
}

TEST_CASE("one sample, none, and no call at all find nothing") {
  MadeSound one{1};
  one.samples().resize(1);
  CHECK(test::found_in(one).empty());
  CHECK(Detector{ClipTime{}}.finish().empty());
  Detector detector{ClipTime{}};
  detector.add({});
  CHECK(detector.finish().empty());
}

TEST_CASE("samples that are no numbers find nothing and do not hide what follows") {
  MadeSound sound = quiet(30).blows(15, 16, 30, 0.2);
  for (std::size_t n = 16000; n < 48000; ++n) sound.samples()[n] = std::numeric_limits<float>::quiet_NaN();
  for (std::size_t n = 48000; n < 64000; ++n) sound.samples()[n] = std::numeric_limits<float>::infinity();
  CHECK(riveting(sound).size() == 1);
}

TEST_CASE("full-scale noise is neither riveting nor a signal") {
  const auto found = test::found_in(MadeSound{60}.noise(1.0));
  CHECK(test::only(Kind::riveting, found).empty());
  CHECK(test::only(Kind::signal, found).empty());
}

TEST_CASE("the size of the blocks does not change what is found") {
  const MadeSound sound = quiet(30).blows(5, 6, 30, 0.2).knock(15, 0.3).knock(15.4, 0.3).knock(15.8, 0.3);
  const auto whole = test::found_in(sound, 1'000'000);
  const auto crumbs = test::found_in(sound, 7);
  REQUIRE(whole.size() == 2);
  REQUIRE(crumbs.size() == 2);
  CHECK(whole[0].begin == crumbs[0].begin);
  CHECK(whole[1].begin == crumbs[1].begin);
}

TEST_CASE("times are those of the clip: the origin is added") {
  const MadeSound sound = quiet(12).blows(5, 6, 30, 0.2);
  Detector detector{ClipTime{std::chrono::milliseconds{-7}}};
  detector.add(sound.samples());
  const auto shifted = detector.finish();
  const auto plain = test::found_in(sound);
  REQUIRE(shifted.size() == 1);
  REQUIRE(plain.size() == 1);
  CHECK(shifted[0].begin == plain[0].begin - std::chrono::milliseconds{7});
}

TEST_CASE("loudness does not matter") {
  for (const double gain : {0.002, 0.05, 1.0}) {
    CAPTURE(gain);
    CHECK(riveting(MadeSound{12}.noise(0.005 * gain).blows(5, 6, 30, 0.3 * gain)).size() == 1);
  }
}

}  // namespace jigtime::detect
