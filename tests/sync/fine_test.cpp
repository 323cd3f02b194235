#include "sync/fine.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

namespace {

std::vector<float> noise(double seconds, std::uint64_t number) {
  Dice dice{number};
  std::vector<float> samples(static_cast<std::size_t>(seconds * sample_rate_hz));
  for (float& sample : samples) sample = static_cast<float>(0.1 * dice.normal());
  return samples;
}

/// What a second microphone has: later by whole samples, its clock faster by `rate`.
std::vector<float> heard_later(const std::vector<float>& samples, double later, double rate) {
  std::vector<float> out(samples.size());
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double from = (static_cast<double>(i) - later) * (1 - rate);
    if (from >= 0 && from < static_cast<double>(samples.size()) - 1) {
      const auto at = static_cast<std::size_t>(from);
      const auto share = static_cast<float>(from - std::floor(from));
      out[i] = samples[at] * (1 - share) + samples[at + 1] * share;
    }
  }
  return out;
}

struct Top {
  double lag = 0;
  float height = 0;
};

Top top_of(const FineMatcher& matcher) {
  const auto lags = matcher.lags();
  const auto best = std::max_element(lags.begin(), lags.end());
  const auto off = static_cast<double>(best - lags.begin()) - static_cast<double>(lags.size() / 2);
  return {matcher.middle_lag() + off / sample_rate_hz, *best};
}

class Failing : public Sound {
 public:
  ClipTime origin() const override { return {}; }
  std::int64_t count() const override { return 10 * sample_rate_hz; }
  Done read(std::int64_t, std::span<float>) const override { return Error{Code::unreadable, "The card came out."}; }
};

}  // namespace

TEST_CASE("onsets are favoured sample for sample as following the level step by step says, however long the sound") {
  for (const std::size_t count :
       {std::size_t{0}, std::size_t{3}, std::size_t{1021}, std::size_t{1024}, std::size_t{3000}}) {
    CAPTURE(count);
    std::vector<float> samples = noise(1, 5);
    for (std::size_t i = 900; i < 1300; ++i) samples[i] *= 20;
    samples.resize(count);
    std::vector<float> expected = samples;
    double before = 0, fast = 0, slow = 1e-12;
    for (std::size_t i = 0; i + 4 <= count; i += 4) {
      double power = 0;
      for (std::size_t k = i; k < i + 4; ++k) {
        const double step = static_cast<double>(samples[k]) - before;
        power += step * step / 4;
        before = static_cast<double>(samples[k]);
      }
      // Levels over 1.5 and over 30 ms of 16 kHz; a tenth is always left, and at the most four times the sound added.
      fast += 4 / 24.0 * (power - fast);
      const double gain = 0.1 + std::clamp(fast / slow - 1, 0.0, 4.0);
      slow += 4 / 480.0 * (power - slow);
      for (std::size_t k = i; k < i + 4; ++k) expected[k] = static_cast<float>(gain * static_cast<double>(samples[k]));
    }
    favour_onsets(samples);
    for (std::size_t i = 0; i < count; ++i) {
      REQUIRE(samples[i] == doctest::Approx(expected[i]).epsilon(1e-4));
    }
  }
}

TEST_CASE("a known delay is the highest lag, to a sample, wherever the clips begin") {
  const std::vector<float> samples = noise(10, 1);
  const MemorySound a{samples, ClipTime{from_seconds(0.013)}};
  const MemorySound b{heard_later(samples, 800, 0), ClipTime{from_seconds(-0.4)}};
  const Hearing hear_a{&a}, hear_b{&b};
  FineMatcher matcher{16000, 0.25};
  const double truth = -0.4 - 0.013 + 0.05;
  const double middle = matcher.match(hear_a, hear_b, 5, {0, truth + 0.02, 0});
  CHECK(std::abs(middle - 5) <= 0.5 / sample_rate_hz);
  CHECK(std::abs(top_of(matcher).lag - truth) <= 0.6 / sample_rate_hz);
}

TEST_CASE("a window of four seconds is followed at the line's slope, without which its peak is lost") {
  const std::vector<float> samples = noise(10, 2);
  const MemorySound a{samples}, b{heard_later(samples, 0, 150e-6)};
  const Hearing hear_a{&a}, hear_b{&b};
  FineMatcher matcher{64000, 1.0};
  matcher.match(hear_a, hear_b, 5, {5, 5 * 150e-6, 150e-6});
  const Top followed = top_of(matcher);
  CHECK(std::abs(followed.lag - 5 * 150e-6) < 1.5 / sample_rate_hz);
  matcher.match(hear_a, hear_b, 5, {5, 5 * 150e-6, 0});
  CHECK(followed.height > 2 * top_of(matcher).height);
}

TEST_CASE("outside the clips there is silence, and what is no number counts as silence") {
  std::vector<float> samples = noise(2, 3);
  samples[100] = std::numeric_limits<float>::quiet_NaN();
  samples[101] = std::numeric_limits<float>::infinity();
  samples[102] = -1e30f;
  const MemorySound sound{samples};
  const Hearing hearing{&sound};
  std::vector<float> out(200);
  hearing.read(0, out);
  CHECK(out[99] == samples[99]);
  CHECK(out[100] == 0);
  CHECK(out[101] == 0);
  CHECK(out[102] == 0);
  hearing.read(-200, out);
  CHECK(std::all_of(out.begin(), out.end(), [](float x) { return x == 0; }));
  CHECK(!hearing.failure());
}

TEST_CASE("a clip that can no longer be read is silent from then on and says why") {
  const Failing sound;
  const MemorySound other{noise(10, 4)};
  const Hearing broken{&sound}, whole{&other};
  CHECK(broken.there());
  FineMatcher matcher{16000, 0.25};
  matcher.match(broken, whole, 5, {0, 0, 0});
  CHECK(std::all_of(matcher.lags().begin(), matcher.lags().end(), [](float x) { return x == 0; }));
  CHECK(!broken.there());
  REQUIRE(broken.failure());
  CHECK(broken.failure()->message() == "The card came out.");
}

TEST_CASE("windows are laid where something happens, in order, not over each other, and no more than wanted") {
  std::vector<float> samples = noise(120, 5);
  for (float& sample : samples) sample *= 0.01f;
  for (const int at : {20, 50, 51, 90}) {
    for (int i = 0; i < 4000; ++i) samples[static_cast<std::size_t>(at * sample_rate_hz + i)] *= 100;
  }
  const Frames frames{features_of(samples)};
  const Line together{0, 0, 0};
  const auto three = eventful_places(frames, frames, together, {0, 120, 4, 5, 3});
  REQUIRE(three.size() == 3);
  CHECK(std::is_sorted(three.begin(), three.end()));
  for (const double place : three) {
    const auto holds_event = [&](double event) { return std::abs(event + 0.1 - place) < 2; };
    CHECK((holds_event(20) || holds_event(50) || holds_event(51) || holds_event(90)));
  }
  const auto all = eventful_places(frames, frames, together, {0, 120, 4, 3, 1000});
  for (std::size_t i = 1; i < all.size(); ++i) CHECK(all[i] - all[i - 1] >= 2.9);
  CHECK(eventful_places(frames, frames, together, {0, 3.9, 4, 3, 10}).empty());
  CHECK(eventful_places(frames, frames, together, {0, 120, 4, 3, 0}).empty());
}
