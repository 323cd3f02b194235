// The simulator judges the line-up, so it is itself held against sums that need no line-up.
#include "bench/shop_simulator.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "bench/delay_bound.h"
#include "bench/random.h"
#include "bench/scenes.h"

namespace jigtime::bench {
namespace {

/// Correlation coefficient of two stretches.
double likeness(const std::vector<float>& a, const std::vector<float>& b) {
  double aa = 0;
  double ab = 0;
  double bb = 0;
  for (std::size_t n = 0; n < a.size(); ++n) {
    aa += static_cast<double>(a[n]) * a[n];
    ab += static_cast<double>(a[n]) * b[n];
    bb += static_cast<double>(b[n]) * b[n];
  }
  return aa > 0 && bb > 0 ? ab / std::sqrt(aa * bb) : 0;
}

std::vector<float> around(const SimulatedClip& clip, double true_s, int lag) {
  std::vector<float> out(4000);
  const double at = (*clip.clip_time_of(true_s) - clip.plan.sound_starts_s) * rate_hz;
  REQUIRE(clip.read(std::llround(at) + lag - 2000, out).ok());
  return out;
}

/// Lag of b against a, in samples with a fraction, at which they are most alike around a true instant.
double best_lag(const SimulatedClip& a, const SimulatedClip& b, double true_s, int reach) {
  const std::vector<float> window = around(a, true_s, 0);
  std::vector<double> alike;
  for (int lag = -reach; lag <= reach; ++lag) alike.push_back(likeness(window, around(b, true_s, lag)));
  const auto best = static_cast<std::size_t>(std::max_element(alike.begin(), alike.end()) - alike.begin());
  // The windows begin at whole samples; what was rounded off belongs to the lag.
  const auto rounded_off = [&](const SimulatedClip& clip) {
    const double at = (*clip.clip_time_of(true_s) - clip.plan.sound_starts_s) * rate_hz;
    return static_cast<double>(std::llround(at)) - at;
  };
  double between = 0;
  if (best > 0 && best + 1 < alike.size()) {
    // White noise correlates as a sinc: between two samples the place follows from their ratio.
    const bool right = alike[best + 1] > alike[best - 1];
    const double next = std::max(0.0, right ? alike[best + 1] : alike[best - 1]);
    between = (right ? 1 : -1) * next / (alike[best] + next);
  }
  return static_cast<double>(best) - reach + between + rounded_off(b) - rounded_off(a);
}

SessionPlan noisy_session() {
  SessionPlan plan = white_noise_session(60, 5);
  plan.events = {{SoundKind::white_noise, 77, 0, 92 * rate_hz, 0, 1.0F}};
  return plan;
}

}  // namespace

TEST_CASE("a camera's clock read and turned back gives the true time to a nanosecond") {
  const CameraClock clock{-87, 9.5, 900};
  for (const double t : {0.0, 0.1, 100.0, 3600.0, 28'800.0}) {
    CHECK(std::abs(clock.true_time(clock.reading(t)) - t) < 1e-9);
  }
}

TEST_CASE("a camera's clock gains what its rate says") {
  const CameraClock clock{50, 10, 600};
  const double gained = clock.reading(1000.5) - clock.reading(999.5) - 1;
  CHECK(gained * 1e6 == doctest::Approx(clock.rate_at(1000)).epsilon(1e-3));
}

TEST_CASE("two clips are alike exactly where the truth says, by clocks that run apart") {
  SessionPlan plan = noisy_session();
  plan.cameras[0].clock = {80, 10, 300};
  plan.cameras[1].clock = {-60, -5, 300};
  plan.clips[1].sound_starts_s = 0.0213;
  const auto clips = simulate(plan);
  for (const double true_s : {20.0, 45.0, 70.0}) {
    CHECK(std::abs(best_lag(clips[0], clips[1], true_s, 4)) < 0.15);  // 9 microseconds
  }
}

TEST_CASE("a dropout without a stamp shifts what follows and the truth follows it") {
  SessionPlan plan = noisy_session();
  plan.clips[1].dropouts = {{45, 0.5, false}};
  const auto clips = simulate(plan);
  CHECK(clips[1].length_s() == doctest::Approx(plan.clips[1].end_s - plan.clips[1].begin_s - 0.5));
  CHECK(!clips[1].clip_time_of(45.2).has_value());
  CHECK(std::abs(best_lag(clips[0], clips[1], 40, 4)) < 0.15);
  CHECK(std::abs(best_lag(clips[0], clips[1], 60, 4)) < 0.15);
}

TEST_CASE("a stamped dropout is silence in the samples and leaves the line alone") {
  SessionPlan plan = noisy_session();
  plan.clips[1].dropouts = {{45, 2, true}};
  const auto clips = simulate(plan);
  const auto gap = std::llround((clips[1].dropouts[0].clip_at_s + 1) * rate_hz);
  CHECK(clips[1].samples[static_cast<std::size_t>(gap)] == 0);
  CHECK(clips[1].length_s() == doctest::Approx(plan.clips[1].end_s - plan.clips[1].begin_s));
  CHECK(std::abs(best_lag(clips[0], clips[1], 60, 4)) < 0.15);
}

TEST_CASE("a sound from one side is heard later by its way through the air") {
  SessionPlan plan = noisy_session();
  plan.arrival = Arrival::as_far;
  plan.positions = {{1, 4, 1}, {5, 4, 1}};
  plan.cameras[0].microphone_at = {1.5, 4, 1};
  plan.cameras[1].microphone_at = {4.5, 4, 1};
  // Half of the events on either side, so that the mean of the ways is the same for both cameras.
  plan.events = {{SoundKind::white_noise, 1, 0, 45 * rate_hz, 0, 1.0F},
                 {SoundKind::white_noise, 2, 46 * rate_hz, 45 * rate_hz, 1, 1.0F}};
  const auto clips = simulate(plan);
  const double way_samples = 3.0 / speed_of_sound_m_s * rate_hz;
  CHECK(best_lag(clips[0], clips[1], 30, 200) == doctest::Approx(way_samples).epsilon(0.005));
  CHECK(best_lag(clips[0], clips[1], 70, 200) == doctest::Approx(-way_samples).epsilon(0.005));
}

TEST_CASE("noise is added at the ratio that was asked for") {
  SessionPlan quiet = noisy_session();
  quiet.cameras[0].microphone.snr_db.reset();
  quiet.cameras[1].microphone.snr_db = 3;
  const auto clips = simulate(quiet);
  // Coherence of clean with noisy at +3 dB: 1 / (1 + 10^-0.3) = 0.666, the square of the correlation.
  const double alike = likeness(around(clips[0], 50, 0), around(clips[1], 50, 0));
  CHECK(alike * alike == doctest::Approx(0.666).epsilon(0.05));
}

TEST_CASE("the same number draws the same samples and another number others") {
  const Cell cell{Scene::spread, 10, 30};
  const auto once = simulate(draw(cell, 3)[0]);
  const auto again = simulate(draw(cell, 3)[0]);
  const auto other = simulate(draw(cell, 4)[0]);
  CHECK(once[0].samples == again[0].samples);
  CHECK(once[0].samples != other[0].samples);
}

TEST_CASE("every kind of session draws clips that have samples, stay in range and can be found in time") {
  for (const Scene scene : {Scene::chain, Scene::dropouts, Scene::repeated, Scene::steady, Scene::microphones,
                            Scene::handled, Scene::soundless, Scene::unrelated, Scene::impostors}) {
    CAPTURE(std::string{to_text(scene)});
    for (const SessionPlan& plan : draw({scene, 10, 0}, 11)) {
      CHECK(std::is_sorted(plan.events.begin(), plan.events.end(),
                           [](const SoundEvent& a, const SoundEvent& b) { return a.begin < b.begin; }));
      for (const ClipPlan& clip : plan.clips) {
        CHECK(clip.begin_s >= 0);
        CHECK(clip.end_s > clip.begin_s);
        CHECK(clip.end_s <= plan.length_s);
        for (const Dropout& lost : clip.dropouts) CHECK(lost.at_s + lost.length_s < clip.end_s);
      }
    }
  }
}

TEST_CASE("microphones of a session are never more than four metres apart") {
  for (std::uint64_t number = 1; number < 40; ++number) {
    const SessionPlan plan = draw({Scene::many, 10, 0}, number)[0];
    for (const CameraPlan& a : plan.cameras) {
      for (const CameraPlan& b : plan.cameras) CHECK(distance_m(a.microphone_at, b.microphone_at) <= 4.1);
    }
  }
}

TEST_CASE("the bound for a flat spectrum is the known closed form") {
  // Quazi 1981: variance = 3 / (8 pi^2 T) * (1 + 2 s) / s^2 / (f2^3 - f1^3).
  const double s = 0.1;
  const double form =
      3 / (8 * std::pow(std::acos(-1.0), 2) * 20) * (1 + 2 * s) / (s * s) / (std::pow(4000, 3) - std::pow(500, 3));
  CHECK(delay_bound_s(20, s, 500, 4000) == doctest::Approx(std::sqrt(form)));
}

TEST_CASE("one long correlation of white noise comes close to the bound and not below it") {
  // 500 delays of 2,048 samples each, found at the best of a fine grid around the truth by plain correlation, which is
  // the best there is for flat spectra. The bound's band is all of 0 to 8 kHz.
  constexpr std::size_t size = 2048;
  constexpr double ratio = 1;
  double squares = 0;
  constexpr int trials = 500;
  for (int trial = 0; trial < trials; ++trial) {
    const std::uint64_t number = mix(static_cast<std::uint64_t>(trial));
    std::vector<double> a(size);
    std::vector<double> b(size);
    for (std::size_t n = 0; n < size; ++n) {
      const auto at = static_cast<std::int64_t>(n);
      a[n] = noise_at(number, at) + noise_at(number + 1, at) / std::sqrt(ratio);
      b[n] = noise_at(number, at) + noise_at(number + 2, at) / std::sqrt(ratio);
    }
    const auto sum_at = [&](int lag) {
      double sum = 0;
      for (std::size_t n = 64; n + 64 < size; ++n) sum += a[n] * b[static_cast<std::size_t>(static_cast<int>(n) + lag)];
      return sum;
    };
    // The correlation is band-limited: sinc interpolation between its samples, and the steepest place of it.
    std::vector<double> sums;
    for (int lag = -32; lag <= 32; ++lag) sums.push_back(sum_at(lag));
    double best = 0;
    double best_sum = -1e9;
    for (double lag = -0.6; lag <= 0.6; lag += 0.002) {
      double sum = 0;
      for (int k = -32; k <= 32; ++k) {
        const double x = std::acos(-1.0) * (lag - k);
        sum += sums[static_cast<std::size_t>(k + 32)] * (std::abs(x) < 1e-9 ? 1 : std::sin(x) / x);
      }
      if (sum > best_sum) {
        best_sum = sum;
        best = lag;
      }
    }
    squares += best * best;
  }
  const double measured_s = std::sqrt(squares / trials) / rate_hz;
  const double bound_s = delay_bound_s(static_cast<double>(size - 128) / rate_hz, ratio, 0, rate_hz / 2.0);
  CHECK(measured_s > 0.9 * bound_s);
  CHECK(measured_s < 1.25 * bound_s);
}

}  // namespace jigtime::bench
