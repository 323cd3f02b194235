#include "detect/blow_train.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

namespace jigtime::detect {
namespace {

/// Decaying pulses at the given times (milliseconds) in 320 ms.
std::vector<float> pulses(double period_ms, double first_ms = 3) {
  std::vector<float> out(320, 0.01F);
  for (double at = first_ms; at < 320; at += period_ms) {
    for (int n = 0; n < 12 && at + n < 320; ++n)
      out[static_cast<std::size_t>(at) + static_cast<std::size_t>(n)] += std::exp(-0.4F * static_cast<float>(n));
  }
  return out;
}

}  // namespace

TEST_CASE("the rate of even blows is found over the whole band of rivet guns") {
  // US Navy training manual 14018: 2,500 blows a minute are 41.7 a second, 5,000 are 83.3; builders' guns from 900, 15.
  for (const double blows_a_minute : {960.0, 1500.0, 1800.0, 2500.0, 3600.0, 4800.0}) {
    CAPTURE(blows_a_minute);
    const auto train = blow_train(pulses(60'000 / blows_a_minute));
    REQUIRE(train.has_value());
    CHECK(train->rate_hz == doctest::Approx(blows_a_minute / 60).epsilon(0.06));
    CHECK(train->contrast > 0.5);
  }
}

TEST_CASE("pulses faster than any rivet gun are no train, though every other one would fit") {
  for (const double rate_hz : {100.0, 120.0, 160.0}) CHECK_FALSE(blow_train(pulses(1000 / rate_hz)).has_value());
}

TEST_CASE("blows slower than any rivet gun are no train") {
  for (const double rate_hz : {3.0, 6.0, 10.0, 13.0}) CHECK_FALSE(blow_train(pulses(1000 / rate_hz)).has_value());
}

TEST_CASE("one loud knock among nothing is no train") {
  for (const double at : {2.0, 100.0, 310.0}) CHECK_FALSE(blow_train(pulses(1000, at)).has_value());
}

TEST_CASE("a stretch too short, empty, constant or without sound is no train") {
  CHECK_FALSE(blow_train({}).has_value());
  CHECK_FALSE(blow_train(std::vector<float>(1, 1.0F)).has_value());
  CHECK_FALSE(blow_train(std::vector<float>(150, 1.0F)).has_value());
  CHECK_FALSE(blow_train(std::vector<float>(320, 0.0F)).has_value());
  CHECK_FALSE(blow_train(std::vector<float>(320, 3.0F)).has_value());
}

}  // namespace jigtime::detect
