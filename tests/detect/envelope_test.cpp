#include "detect/envelope.h"

#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "detect/made_sound.h"

namespace jigtime::detect {
namespace {

std::vector<Frame> frames_of(const std::vector<float>& samples) {
  std::vector<Frame> frames;
  Envelope envelope;
  envelope.add(samples, [&](const Frame& frame) { frames.push_back(frame); });
  return frames;
}

double mean_power(const std::vector<Frame>& frames, float Frame::*band) {
  double sum = 0;
  for (const Frame& frame : frames) sum += static_cast<double>(frame.*band);
  return sum / static_cast<double>(frames.size());
}

}  // namespace

TEST_CASE("a second of sound makes a thousand frames and a rest is kept back") {
  CHECK(frames_of(std::vector<float>(16000 + 15, 0.1F)).size() == 1000);
}

TEST_CASE("a tone is loudest in the band it lies in") {
  const auto middle = frames_of(test::MadeSound{1}.hum(0.5, 1400).samples());
  CHECK(mean_power(middle, &Frame::middle) > mean_power(middle, &Frame::high));
  const auto high = frames_of(test::MadeSound{1}.hum(0.5, 5000).samples());
  CHECK(mean_power(high, &Frame::high) > 10 * mean_power(high, &Frame::middle));
}

TEST_CASE("mains hum is at least twenty decibels below a tone of the band") {
  const auto hum = frames_of(test::MadeSound{1}.hum(0.5, 100).samples());
  const auto tone = frames_of(test::MadeSound{1}.hum(0.5, 1400).samples());
  CHECK(mean_power(hum, &Frame::middle) < 0.01 * mean_power(tone, &Frame::middle));
}

TEST_CASE("digital silence is told from the quietest noise") {
  CHECK_FALSE(frames_of(std::vector<float>(160, 0.0F))[5].heard);
  CHECK(frames_of(std::vector<float>(160, 1.0F / 32768))[5].heard);
}

TEST_CASE("samples that are no numbers count as silence and do not spread") {
  std::vector<float> samples(320, 0.0F);
  samples[3] = std::numeric_limits<float>::quiet_NaN();
  samples[4] = std::numeric_limits<float>::infinity();
  for (const Frame& frame : frames_of(samples)) CHECK(frame.power() == 0.0F);
}

TEST_CASE("samples far beyond full scale are cut and stay finite") {
  std::vector<float> samples(320);
  for (std::size_t n = 0; n < samples.size(); ++n) samples[n] = n % 2 == 0 ? 1e38F : -1e38F;
  for (const Frame& frame : frames_of(samples)) CHECK(frame.power() < 5000);
}

}  // namespace jigtime::detect
