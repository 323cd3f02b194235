#include "signal/fft.h"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <stdexcept>
#include <thread>

#include "signal/python_check.h"

namespace {

using namespace jigtime::signal;

Samples noise(int count, unsigned number) {
  std::mt19937 random{number};
  std::normal_distribution<float> normal;
  Samples samples(static_cast<std::size_t>(count));
  for (float& sample : samples) sample = normal(random);
  return samples;
}

double farthest(const Samples& a, const Samples& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.size(); ++i) most = std::max(most, std::abs(static_cast<double>(a[i]) - b[i]));
  return most;
}

TEST_CASE("the sizes with kept plans are transformed as the definition says") {
  for (const int size : planned_sizes()) {
    CAPTURE(size);
    const RealFft fft{size};
    const Samples samples = noise(size, 3);
    Spectrum spectrum;
    fft.forward(samples, spectrum);
    for (const int bin : {1, size / 7, size / 2 - 3}) {
      std::complex<double> sum = 0;
      for (int i = 0; i < size; ++i) {
        const double turns = std::fmod(static_cast<double>(bin) * i, size) / size;
        sum +=
            static_cast<double>(samples[static_cast<std::size_t>(i)]) * std::polar(1.0, -2 * std::numbers::pi * turns);
      }
      const std::complex<double> found = spectrum[static_cast<std::size_t>(bin)];
      CHECK(std::abs(found - sum) < 1e-5 * std::sqrt(size));
    }
    Samples back;
    fft.inverse(spectrum, back);
    CHECK(farthest(samples, back) < 1e-5);
  }
}

TEST_CASE("there and back gives the same samples at powers of two and at other sizes") {
  for (const int size : {2, 6, 30, 1024, 1500, 16384}) {
    CAPTURE(size);
    const RealFft fft{size};
    const Samples samples = noise(size, 1);
    Spectrum spectrum;
    Samples back;
    fft.forward(samples, spectrum);
    CHECK(spectrum.size() == static_cast<std::size_t>(fft.bins()));
    fft.inverse(spectrum, back);
    CHECK(farthest(samples, back) < 1e-5);
  }
}

TEST_CASE("a transform agrees with numpy.fft.rfft") {
  const Samples samples = noise(3000, 2);
  Spectrum spectrum;
  RealFft{3000}.forward(samples, spectrum);
  jigtime::test::PythonCheck python;
  python.give("x", samples);
  const auto reference =
      python.run("s = np.fft.rfft(x.astype(np.float64))\nresult = np.stack([s.real, s.imag], axis=1)");
  REQUIRE(reference.size() == 2 * spectrum.size());
  for (std::size_t k = 0; k < spectrum.size(); ++k) {
    CHECK(spectrum[k].real() == doctest::Approx(reference[2 * k]).epsilon(1e-4).scale(50));
    CHECK(spectrum[k].imag() == doctest::Approx(reference[2 * k + 1]).epsilon(1e-4).scale(50));
  }
}

TEST_CASE("several threads transform the same as one") {
  const Samples samples = noise(4096, 3);
  Spectrum expected;
  RealFft{4096}.forward(samples, expected);
  std::vector<Spectrum> got(4);
  {
    std::vector<std::jthread> threads;
    for (Spectrum& one : got) threads.emplace_back([&] { RealFft{4096}.forward(samples, one); });
  }
  for (const Spectrum& one : got) CHECK(one == expected);
}

TEST_CASE("an odd or empty size is refused") {
  CHECK_THROWS_AS(RealFft{7}, std::logic_error);
  CHECK_THROWS_AS(RealFft{0}, std::logic_error);
  CHECK_THROWS_AS(RealFft{-2}, std::logic_error);
}

TEST_CASE("the wrong number of samples or bins is refused") {
  const RealFft fft{16};
  Spectrum spectrum(8);
  Samples samples(15);
  CHECK_THROWS_AS(fft.forward(samples, spectrum), std::logic_error);
  CHECK_THROWS_AS(fft.inverse(spectrum, samples), std::logic_error);
}

TEST_CASE("a fast size is even, not smaller than asked, and has only the factors 2, 3 and 5") {
  CHECK(fast_size(1) == 2);
  CHECK(fast_size(7) == 8);
  CHECK(fast_size(16384) == 16384);
  CHECK(fast_size(16385) == 17280);
}

}  // namespace
