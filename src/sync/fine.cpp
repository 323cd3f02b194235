#include "sync/fine.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace jigtime::sync {

namespace {

constexpr signal::Whitening whitening{.low_hz = 300, .high_hz = 7000, .exponent = 0.875};

/// The level is followed in steps of a quarter of a millisecond: a gain for each, from the power of its samples.
/// Only what waits for the step before is done one by one; the rest, apart from it, is done several steps at once.
class OnsetFilter {
 public:
  static constexpr std::size_t at_once = 4;
  static constexpr std::size_t most_steps = 256;
  using Steps = std::array<float, most_steps>;

  /// The mean power of the differences of neighbouring samples, for each step.
  void powers_of(std::span<const float> samples, Steps& powers) {
    const std::size_t steps = samples.size() / at_once;
    powers[0] = power_of(samples.data(), before_);
    for (std::size_t i = 1; i < steps; ++i) {
      const float* const step = samples.data() + i * at_once;
      powers[i] = power_of(step, step[-1]);
    }
    before_ = samples[steps * at_once - 1];
  }
  /// Replaces a step's power by how far what is fast lies above what is slow.
  void follow(float& power) {
    // Written so that a step waits for one product and one sum of the step before.
    fast_ = (1 - fast_share) * fast_ + fast_share * power;
    const float slow = slow_;
    slow_ = (1 - slow_share) * slow_ + (slow_share * power + at_once * 1e-16f);
    power = fast_ / slow;
  }
  static void turn_down(std::span<float> samples, const Steps& rises) {
    const std::size_t steps = samples.size() / at_once;
    for (std::size_t i = 0; i < steps; ++i) {
      // Not clamp, of which branches are made that sound makes hard to foretell.
      const float gain = always + std::min(std::max(rises[i] - 1, 0.0f), most);
      for (std::size_t k = 0; k < at_once; ++k) samples[i * at_once + k] *= gain;
    }
  }

 private:
  static constexpr float square(float x) { return x * x; }
  static float power_of(const float* step, float before) {
    return (square(step[0] - before) + square(step[1] - step[0]) + square(step[2] - step[1]) +
            square(step[3] - step[2])) /
           at_once;
  }
  static constexpr float fast_share = at_once / (0.0015f * sample_rate_hz);
  static constexpr float slow_share = at_once / (0.03f * sample_rate_hz);
  static constexpr float always = 0.1f, most = 4;
  float before_ = 0, fast_ = 0, slow_ = 1e-12f;
};

/// Equally long sounds at once: each step waits for the one before it, but not for those of other sounds. What is left
/// over beyond whole steps stays as it is.
template <std::size_t count>
void favour_onsets(const std::array<std::span<float>, count>& sounds) {
  std::array<OnsetFilter, count> filters;
  std::array<OnsetFilter::Steps, count> steps;
  constexpr std::size_t most = OnsetFilter::most_steps * OnsetFilter::at_once;
  const std::size_t whole = sounds[0].size() - sounds[0].size() % OnsetFilter::at_once;
  for (std::size_t first = 0; first < whole; first += most) {
    const std::size_t samples = std::min(most, whole - first);
    for (std::size_t k = 0; k < count; ++k) filters[k].powers_of(sounds[k].subspan(first, samples), steps[k]);
    for (std::size_t i = 0; i < samples / OnsetFilter::at_once; ++i) {
      for (std::size_t k = 0; k < count; ++k) filters[k].follow(steps[k][i]);
    }
    for (std::size_t k = 0; k < count; ++k) OnsetFilter::turn_down(sounds[k].subspan(first, samples), steps[k]);
  }
}

/// In which the slope of a line moves nothing by more than a seventieth of a sample.
constexpr std::int64_t moved_together = 64;

}  // namespace

void favour_onsets(std::span<float> samples) { favour_onsets(std::array{samples}); }

void Hearing::read(std::int64_t first, std::span<float> out) const {
  if (there()) {
    const Done done = sound_->read(first, out);
    if (!done) {
      const std::scoped_lock lock{guard_};
      if (!failure_) failure_ = done.error();
      failed_ = true;
    }
  }
  if (!there()) std::fill(out.begin(), out.end(), 0.0f);
  constexpr float loudest = 1e9f;  // written so that it fails for what is no number
  for (float& sample : out) sample = std::abs(sample) <= loudest ? sample : 0.0f;
}

std::optional<Error> Hearing::failure() const {
  const std::scoped_lock lock{guard_};
  return failure_;
}

std::vector<float> tapered(int samples) {
  std::vector<float> taper(static_cast<std::size_t>(samples));
  const double edge = samples / 16.0;
  for (int i = 0; i < samples; ++i) {
    const double in = std::min(1.0, (std::min(i, samples - 1 - i) + 0.5) / edge);
    taper[static_cast<std::size_t>(i)] = static_cast<float>(0.5 - 0.5 * std::cos(std::numbers::pi * in));
  }
  return taper;
}

FineMatcher::FineMatcher(int samples, double reach)
    : correlator_{samples, sample_rate_hz, whitening},
      reach_{std::min(reach, samples / 4.0 / sample_rate_hz)},
      taper_{tapered(samples)},
      a_(taper_.size()),
      b_(taper_.size()) {}

double FineMatcher::match(const Hearing& a, const Hearing& b, double at, const Line& line) {
  const std::int64_t half = correlator_.size() / 2;
  const std::int64_t middle_a = std::llround((at - a.origin()) * sample_rate_hz);
  const double at_a = a.origin() + static_cast<double>(middle_a) / sample_rate_hz;
  const std::int64_t middle_b = std::llround((at_a + line(at_a) - b.origin()) * sample_rate_hz);
  middle_lag_ = b.origin() + static_cast<double>(middle_b) / sample_rate_hz - at_a;
  // b runs faster or slower: it is read where the slope says, to the nearest sample, which costs half a sample of
  // jitter at the most but keeps both ends of a long window in step.
  const auto slip = static_cast<std::int64_t>(std::ceil(std::abs(line.slope) * static_cast<double>(half)));
  raw_a_.resize(a_.size() + 2 * static_cast<std::size_t>(slip));
  raw_b_.resize(raw_a_.size());
  a.read(middle_a - half - slip, raw_a_);
  b.read(middle_b - half - slip, raw_b_);
  favour_onsets(std::array<std::span<float>, 2>{raw_a_, raw_b_});
  for (std::int64_t first = 0; first < 2 * half; first += moved_together) {
    const std::int64_t count = std::min(moved_together, 2 * half - first);
    const std::int64_t moved = std::llround(line.slope * static_cast<double>(first + moved_together / 2 - half));
    const float* const taper = taper_.data() + first;
    const float* const from_a = raw_a_.data() + first + slip;
    const float* const from_b = raw_b_.data() + first + slip + std::clamp(moved, -slip, slip);
    for (std::int64_t i = 0; i < count; ++i) a_[static_cast<std::size_t>(first + i)] = from_a[i] * taper[i];
    for (std::int64_t i = 0; i < count; ++i) b_[static_cast<std::size_t>(first + i)] = from_b[i] * taper[i];
  }
  const int reach = static_cast<int>(reach_ * sample_rate_hz);
  lags_ = correlator_(a_, b_, reach);
  return at_a;
}

std::vector<double> eventful_places(const Frames& a, const Frames& b, const Line& line, const Places& wanted) {
  std::vector<double> places;
  const double half = wanted.seconds / 2;
  const double first = wanted.from + half, last = wanted.to - half;
  if (!(last >= first) || wanted.count < 1) return places;
  const int strata = std::max(1, static_cast<int>(std::ceil((last - first) / std::max(wanted.apart, half))));
  const auto score = [&](double t) {
    return std::sqrt(a.activity(t - half, t + half) * b.activity(t + line(t) - half, t + line(t) + half));
  };
  struct Place {
    double at = 0;
    double score = 0;
  };
  std::vector<Place> found;
  double taken_to = -1e18;
  for (int i = 0; i < strata; ++i) {
    const double low = std::max(taken_to, first + (last - first) * i / strata);
    const double high = first + (last - first) * (i + 1) / strata;
    Place best;
    for (double at = low; at <= high; at += wanted.seconds / 8) {
      if (const double here = score(at); here > best.score) best = {at, here};
    }
    if (best.score <= 0) continue;
    found.push_back(best);
    taken_to = best.at + wanted.seconds * 0.75;
  }
  const auto louder = [](const Place& x, const Place& y) { return x.score > y.score; };
  std::sort(found.begin(), found.end(), louder);
  // Where eight windows are full of events, windows full of noise only dilute them.
  if (found.size() > 8)
    std::erase_if(found, [least = found[7].score * 0.1](const Place& x) { return x.score < least; });
  for (const Place& place : found) places.push_back(place.at);
  if (static_cast<int>(places.size()) > wanted.count) places.resize(static_cast<std::size_t>(wanted.count));
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace jigtime::sync
