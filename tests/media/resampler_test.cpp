#include "media/libav/resampler.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace jigtime;
using namespace jigtime::media;

namespace {

std::vector<float> sine(double hertz, int rate_hz, int count) {
  std::vector<float> samples(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    samples[static_cast<std::size_t>(i)] =
        static_cast<float>(0.5 * std::sin(2 * std::numbers::pi * hertz * i / rate_hz));
  }
  return samples;
}

std::vector<float> resampled(Resampler& resampler, const std::vector<float>& in, std::size_t piece) {
  std::vector<float> out;
  for (std::size_t at = 0; at < in.size(); at += piece) {
    REQUIRE(resampler.convert(std::span{in}.subspan(at, std::min(piece, in.size() - at)), out));
  }
  REQUIRE(resampler.finish(out));
  return out;
}

/// Largest difference from the true sine, `margin` samples from both ends left out (the filter has only half of its
/// input there).
double worst(const std::vector<float>& out, const std::vector<float>& truth, std::size_t margin) {
  double most = 0;
  for (std::size_t i = margin; i + margin < out.size(); ++i) most = std::max(most, std::abs(double{out[i]} - truth[i]));
  return most;
}

}  // namespace

TEST_CASE("output sample n is the signal at n / rate, whatever the rates and the pieces") {
  for (const int in_rate : {8000, 11025, 16000, 22050, 24000, 32000, 44100, 48000, 96000}) {
    for (const std::size_t piece : {std::size_t{1024}, std::size_t{333}, std::size_t{100000}}) {
      CAPTURE(in_rate);
      CAPTURE(piece);
      Result<Resampler> resampler = Resampler::open(in_rate, 16000);
      REQUIRE(resampler);
      const std::vector<float> out = resampled(*resampler, sine(1000, in_rate, in_rate), piece);
      CHECK(out.size() == 16000);
      // A delay of one hundredth of a sample would show as 0.5 * 2 pi * 1000 / 1600000 = 0.002.
      CHECK(worst(out, sine(1000, 16000, 16000), 64) < 0.001);
    }
  }
}

TEST_CASE("the band for the line-up passes, what would fold into it does not") {
  const auto level = [](double hertz) {
    Result<Resampler> resampler = Resampler::open(48000, 16000);
    REQUIRE(resampler);
    const std::vector<float> out = resampled(*resampler, sine(hertz, 48000, 48000), 4096);
    double sum = 0;
    for (std::size_t i = 1000; i < 15000; ++i) sum += double{out[i]} * out[i];
    return 10 * std::log10(sum / 14000 / 0.125);
  };
  CHECK(std::abs(level(300)) < 0.1);
  CHECK(std::abs(level(3000)) < 0.1);
  CHECK(std::abs(level(6500)) < 1.0);
  CHECK(level(9500) < -60);
  CHECK(level(15000) < -60);
}

TEST_CASE("the resampler begins anew after the end") {
  Result<Resampler> resampler = Resampler::open(44100, 16000);
  REQUIRE(resampler);
  const std::vector<float> in = sine(700, 44100, 30000);
  const std::vector<float> once = resampled(*resampler, in, 1000);
  const std::vector<float> again = resampled(*resampler, in, 1000);
  CHECK(once == again);
}

TEST_CASE("one sample comes out as one sample and nothing as nothing") {
  Result<Resampler> resampler = Resampler::open(48000, 16000);
  REQUIRE(resampler);
  std::vector<float> out;
  REQUIRE(resampler->finish(out));
  CHECK(out.empty());
  const std::vector<float> one{0.5F};
  REQUIRE(resampler->convert(one, out));
  REQUIRE(resampler->finish(out));
  CHECK(out.size() == 1);
}

TEST_CASE("rates that are none are refused") {
  CHECK(Resampler::open(0, 16000).error().code() == Code::invalid);
  CHECK(Resampler::open(48000, -1).error().code() == Code::invalid);
}
