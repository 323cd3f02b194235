#include "film/tempo.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

using namespace jigtime;

namespace {

constexpr int rate_hz = 48000;

/// 440 Hz, heard for 300 ms from every whole second on.
std::vector<float> bursts(int seconds) {
  std::vector<float> samples(static_cast<std::size_t>(seconds) * rate_hz, 0.0F);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (i % rate_hz >= rate_hz * 3 / 10) continue;
    samples[i] = static_cast<float>(0.5 * std::sin(2 * std::numbers::pi * 440 * static_cast<double>(i) / rate_hz));
  }
  return samples;
}

std::vector<float> stretched(const std::vector<float>& in, double tempo) {
  film::Tempo stretcher{rate_hz, tempo};
  std::vector<float> out;
  std::vector<float> some(500);
  for (std::size_t i = 0; i < in.size(); i += 1024) {
    stretcher.put(std::span{in}.subspan(i, std::min<std::size_t>(1024, in.size() - i)));
    for (std::size_t n = stretcher.take(some); n > 0; n = stretcher.take(some)) {
      out.insert(out.end(), some.begin(), some.begin() + static_cast<std::ptrdiff_t>(n));
    }
  }
  return out;
}

/// Middle of the energy between two samples, in seconds.
double middle(const std::vector<float>& samples, double from, double to) {
  double sum = 0, moment = 0;
  for (auto i = static_cast<std::size_t>(from * rate_hz);
       i < samples.size() && i < static_cast<std::size_t>(to * rate_hz); ++i) {
    const double energy = static_cast<double>(samples[i]) * samples[i];
    sum += energy;
    moment += energy * static_cast<double>(i) / rate_hz;
  }
  return sum > 0 ? moment / sum : -1;
}

}  // namespace

TEST_CASE("what comes out lies where what went in lay, at every speed with sound") {
  for (const double tempo : {0.25, 0.5, 0.75, 1.0, 1.5, 2.0}) {
    CAPTURE(tempo);
    const auto out = stretched(bursts(8), tempo);
    for (int second = 1; second < 7; ++second) {
      const double wanted = (second + 0.15) / tempo;
      const double found = middle(out, (second - 0.2) / tempo, (second + 0.6) / tempo);
      CHECK(std::abs(found - wanted) < (tempo < 0.5 ? 0.020 : 0.010));
    }
  }
}

TEST_CASE("the pitch stays as it was") {
  for (const double tempo : {0.5, 2.0}) {
    CAPTURE(tempo);
    const auto out = stretched(bursts(6), tempo);
    // Crossings of zero in the middle of the burst that began at second 3.
    const auto from = static_cast<std::size_t>((3 + 0.1) / tempo * rate_hz);
    const auto to = static_cast<std::size_t>((3 + 0.2) / tempo * rate_hz);
    int crossings = 0;
    for (std::size_t i = from + 1; i < to; ++i) crossings += (out[i - 1] < 0) != (out[i] < 0) ? 1 : 0;
    const double hz = crossings / 2.0 / (static_cast<double>(to - from) / rate_hz);
    CHECK(hz == doctest::Approx(440).epsilon(0.04));
  }
}

TEST_CASE("at its own speed sound passes unchanged, at once") {
  const auto in = bursts(1);
  CHECK(stretched(in, 1.0) == in);
}
