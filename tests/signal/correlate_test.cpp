#include "signal/correlate.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "signal/python_check.h"

namespace {

using namespace jigtime::signal;

constexpr int rate_hz = 16000;

Samples noise(std::size_t count, unsigned number) {
  std::mt19937 random{number};
  std::normal_distribution<float> normal;
  Samples samples(count);
  for (float& sample : samples) sample = normal(random);
  return samples;
}

/// The same sound heard twice, b later by `delay` samples, each with noise of its own.
std::pair<Samples, Samples> heard_twice(std::size_t count, int delay, float own_noise) {
  const Samples common = noise(count + 4000, 1), own_a = noise(count, 2), own_b = noise(count, 3);
  Samples a(count), b(count);
  for (std::size_t i = 0; i < count; ++i) {
    a[i] = common[i + 2000] + own_noise * own_a[i];
    b[i] = common[static_cast<std::size_t>(static_cast<int>(i) + 2000 - delay)] + own_noise * own_b[i];
  }
  return {a, b};
}

double strongest_lag(std::span<const float> values, int reach) {
  return highest_peaks(values, 1, 1).at(0).position - reach;
}

TEST_CASE("plain correlation agrees with scipy.signal.correlate at every lag") {
  const auto [a, b] = heard_twice(700, 37, 1.0f);
  const std::span<const float> shorter{b.data(), 500};
  const Correlation ours = correlate(a, shorter);
  jigtime::test::PythonCheck python;
  python.give("a", a);
  python.give("b", shorter);
  const auto reference = python.run(
      "from scipy.signal import correlate\nresult = correlate(b.astype(np.float64), a.astype(np.float64), 'full')");
  REQUIRE(ours.values.size() == reference.size());
  CHECK(ours.first_lag == -699);
  for (std::size_t i = 0; i < reference.size(); ++i) {
    CHECK(ours.values[i] == doctest::Approx(reference[i]).epsilon(1e-4).scale(100));
  }
}

TEST_CASE("whitened correlation agrees with a textbook phase transform in numpy") {
  const auto [a, b] = heard_twice(8192, -53, 1.0f);
  WhitenedCorrelator correlator{8192, rate_hz, {.low_hz = 300, .high_hz = 7000, .exponent = 1}};
  const auto ours = correlator(a, b, 400);
  jigtime::test::PythonCheck python;
  python.give("a", a);
  python.give("b", b);
  // Knapp and Carter 1976: divide the cross-spectrum by its magnitude, go back to the lag domain.
  const auto reference = python.run(
      "cross = np.conj(np.fft.rfft(a.astype(np.float64))) * np.fft.rfft(b.astype(np.float64))\n"
      "f = np.fft.rfftfreq(len(a), 1 / 16000)\n"
      "low, high = round(300 / (16000 / 8192)), round(7000 / (16000 / 8192))\n"
      "k = np.arange(len(f)); band = (k >= low) & (k <= high)\n"
      "phat = np.where(band, cross / np.abs(cross), 0)\n"
      "r = np.fft.irfft(phat) * len(a) / (2 * band.sum())\n"
      "result = np.concatenate([r[-400:], r[:401]])");
  REQUIRE(ours.size() == reference.size());
  for (std::size_t i = 0; i < reference.size(); ++i) {
    CHECK(ours[i] == doctest::Approx(reference[i]).epsilon(1e-3).scale(0.01));
  }
  CHECK(strongest_lag(ours, 400) == doctest::Approx(-53).epsilon(0.01));
}

TEST_CASE("the lag is found whatever the gain, the polarity and the sign of the delay") {
  for (const int delay : {-900, -1, 0, 5, 640}) {
    for (const float gain : {1e-3f, 1.0f, -50.0f}) {
      CAPTURE(delay);
      CAPTURE(gain);
      auto [a, b] = heard_twice(16384, delay, 1.0f);
      for (float& sample : b) sample *= gain;
      for (const double exponent : {0.8, 1.0}) {
        WhitenedCorrelator correlator{16384, rate_hz, {.exponent = exponent}};
        CHECK(std::abs(strongest_lag(correlator(a, b, 1000), 1000) - delay) < 0.2);
      }
    }
  }
}

TEST_CASE("a delay between two samples is found to a tenth of a sample") {
  // A band-limited signal, delayed in the frequency domain by 3.4 samples.
  const Samples a = noise(16384, 5);
  const RealFft fft{16384};
  Spectrum spectrum;
  fft.forward(a, spectrum);
  for (std::size_t k = 0; k < spectrum.size(); ++k) {
    const double turn = -2 * 3.14159265358979 * static_cast<double>(k) * 3.4 / 16384;
    spectrum[k] *= std::complex<float>{static_cast<float>(std::cos(turn)), static_cast<float>(std::sin(turn))};
  }
  spectrum.back() = 0;
  Samples b;
  fft.inverse(spectrum, b);
  WhitenedCorrelator correlator{16384, rate_hz, {}};
  CHECK(strongest_lag(correlator(a, b, 100), 100) == doctest::Approx(3.4).epsilon(0.03));
}

TEST_CASE("unrelated noise has no peak that stands out") {
  WhitenedCorrelator correlator{16384, rate_hz, {}};
  const auto values = correlator(noise(16384, 6), noise(16384, 7), 2000);
  CHECK(highest_peaks(values, 1, 1).at(0).height < 0.06);
}

TEST_CASE("silence on either side gives zeros, not NaN") {
  WhitenedCorrelator correlator{4096, rate_hz, {}};
  for (const float value : correlator(Samples(4096, 0.0f), noise(4096, 8), 50)) CHECK(value == 0.0f);
}

TEST_CASE("a sample that is not a number gives zeros, not NaN") {
  Samples broken = noise(4096, 9);
  broken[77] = std::numeric_limits<float>::quiet_NaN();
  WhitenedCorrelator correlator{4096, rate_hz, {}};
  for (const float value : correlator(broken, noise(4096, 8), 50)) CHECK(value == 0.0f);
}

TEST_CASE("peaks come highest first and not too close together") {
  std::vector<float> values(100, 0.0f);
  values[10] = 1;
  values[12] = 0.9f;
  values[50] = -3;
  values[80] = 2;
  const auto peaks = highest_peaks(values, 3, 5);
  REQUIRE(peaks.size() == 3);
  CHECK(peaks[0].position == doctest::Approx(50));
  CHECK(peaks[0].height == doctest::Approx(3));
  CHECK(peaks[1].position == doctest::Approx(80));
  CHECK(peaks[2].position == doctest::Approx(10));
  CHECK(highest_peaks(values, 3, 5, 2.0f).size() == 2);
}

TEST_CASE("a parabola's vertex is found between its samples") {
  std::vector<float> values;
  for (int i = 0; i < 7; ++i) values.push_back(5.0f - static_cast<float>((i - 3.3) * (i - 3.3)));
  const Peak peak = vertex(values, 3);
  CHECK(peak.position == doctest::Approx(3.3));
  CHECK(peak.height == doctest::Approx(5));
  CHECK(vertex(values, 0).position == doctest::Approx(0));
}

TEST_CASE("flat and empty input have no peaks") {
  CHECK(highest_peaks(std::vector<float>{}, 3, 1).empty());
  CHECK(highest_peaks(std::vector<float>(9, 0.0f), 3, 1).empty());
}

TEST_CASE("an empty stretch or an empty band is refused") {
  CHECK_THROWS_AS(correlate({}, noise(4, 1)), std::logic_error);
  CHECK_THROWS_AS((WhitenedCorrelator{1024, rate_hz, {.low_hz = 9000, .high_hz = 9100}}), std::logic_error);
}

}  // namespace
