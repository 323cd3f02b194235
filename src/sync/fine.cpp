#include "sync/fine.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace jigtime::sync {

namespace {

constexpr signal::Whitening whitening{.low_hz = 300, .high_hz = 7000, .exponent = 0.9};
constexpr int peaks_kept = 3;
constexpr int apart_samples = 32;  // 2 ms

}  // namespace

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
  for (float& sample : out) {
    if (!std::isfinite(sample)) sample = 0;
  }
}

std::optional<Error> Hearing::failure() const {
  const std::scoped_lock lock{guard_};
  return failure_;
}

FineMatcher::FineMatcher(int samples, double reach)
    : correlator_{samples, sample_rate_hz, whitening},
      reach_{std::min(reach, samples / 4.0 / sample_rate_hz)},
      taper_(static_cast<std::size_t>(samples)),
      a_(taper_.size()),
      b_(taper_.size()) {
  const double edge = samples / 16.0;
  for (int i = 0; i < samples; ++i) {
    const double in = std::min(1.0, (std::min(i, samples - 1 - i) + 0.5) / edge);
    taper_[static_cast<std::size_t>(i)] = static_cast<float>(0.5 - 0.5 * std::cos(std::numbers::pi * in));
  }
}

Window FineMatcher::match(const Hearing& a, const Hearing& b, double at, const Line& line) {
  const std::int64_t half = correlator_.size() / 2;
  const std::int64_t middle_a = std::llround((at - a.origin()) * sample_rate_hz);
  const double at_a = a.origin() + static_cast<double>(middle_a) / sample_rate_hz;
  const std::int64_t middle_b = std::llround((at_a + line(at_a) - b.origin()) * sample_rate_hz);
  middle_lag_ = b.origin() + static_cast<double>(middle_b) / sample_rate_hz - at_a;
  raw_.resize(a_.size());
  a.read(middle_a - half, raw_);
  for (std::size_t i = 0; i < a_.size(); ++i) a_[i] = raw_[i] * taper_[i];
  // b runs faster or slower: it is read sample by sample where the slope says, which costs half a sample of jitter at
  // the most but keeps both ends of a long window in step.
  const auto slip = static_cast<std::int64_t>(std::ceil(std::abs(line.slope) * static_cast<double>(half)));
  raw_.resize(b_.size() + 2 * static_cast<std::size_t>(slip));
  b.read(middle_b - half - slip, raw_);
  for (std::int64_t i = 0; i < 2 * half; ++i) {
    const std::int64_t place = i + slip + std::llround(line.slope * static_cast<double>(i - half));
    b_[static_cast<std::size_t>(i)] = raw_[static_cast<std::size_t>(place)] * taper_[static_cast<std::size_t>(i)];
  }
  const int reach = static_cast<int>(reach_ * sample_rate_hz);
  const auto values = correlator_(a_, b_, reach);
  lags_.assign(values.begin(), values.end());
  Window window{at_a, {}};
  double power = 0;
  for (const float value : lags_) power += static_cast<double>(value) * value;
  const double level = std::sqrt(power / static_cast<double>(lags_.size()));
  if (!(level > 0)) return window;
  for (const signal::Peak& peak : signal::highest_peaks(lags_, peaks_kept, apart_samples)) {
    window.peaks.push_back({middle_lag_ + (peak.position - reach) / sample_rate_hz, peak.height / level});
  }
  return window;
}

std::vector<double> eventful_places(const Frames& a, const Frames& b, const Line& line, double from, double to,
                                    double seconds, double apart, int count) {
  std::vector<double> places;
  const double first = from + seconds / 2, last = to - seconds / 2;
  if (!(last >= first) || count < 1) return places;
  const int strata = std::clamp(static_cast<int>(std::ceil((last - first) / std::max(apart, seconds / 2))), 1, count);
  const auto heard = [&](const Frames& frames, double middle) {
    const int begin = std::max(0, static_cast<int>(frames.frame_at(middle - seconds / 2)));
    const int end = std::min(frames.count(), static_cast<int>(frames.frame_at(middle + seconds / 2)));
    double sum = 0;
    for (int i = begin; i < end; ++i) sum += frames.energy()[static_cast<std::size_t>(i)];
    return sum;
  };
  double taken_to = -1e18;
  for (int i = 0; i < strata; ++i) {
    const double low = std::max(taken_to, first + (last - first) * i / strata);
    const double high = first + (last - first) * (i + 1) / strata;
    double best = 0, best_at = 0;
    for (double at = low; at <= high; at += seconds / 4) {
      const double score = std::sqrt(heard(a, at) * heard(b, at + line(at)));
      if (score > best) {
        best = score;
        best_at = at;
      }
    }
    if (best <= 0) continue;
    places.push_back(best_at);
    taken_to = best_at + seconds * 0.75;
  }
  return places;
}

}  // namespace jigtime::sync
