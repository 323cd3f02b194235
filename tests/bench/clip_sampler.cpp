#include "bench/clip_sampler.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "bench/shop_simulator.h"

namespace jigtime::bench {
namespace {

constexpr int half = 16;
constexpr int taps = 2 * half;
constexpr int phases = 512;
constexpr double pass = 0.93;  // of 8 kHz, half-way down
constexpr int step = 256;

/// Modified Bessel function of order zero, by its series; the arguments here stay below 10.
double bessel_0(double x) {
  double term = 1;
  double sum = 1;
  for (int k = 1; k < 40; ++k) {
    term *= (x / 2 / k) * (x / 2 / k);
    sum += term;
  }
  return sum;
}

using Kernels = std::array<std::array<float, taps>, phases + 1>;

const Kernels& kernels() {
  static const Kernels made = [] {
    Kernels table{};
    constexpr double beta = 8;
    for (int p = 0; p <= phases; ++p) {
      for (int k = 0; k < taps; ++k) {
        const double x = k - (half - 1) - static_cast<double>(p) / phases;
        const double sinc = std::abs(x) < 1e-9 ? pass : std::sin(std::numbers::pi * pass * x) / (std::numbers::pi * x);
        const double in = 1 - (x / half) * (x / half);
        const double window = in <= 0 ? 0 : bessel_0(beta * std::sqrt(in)) / bessel_0(beta);
        table[static_cast<std::size_t>(p)][static_cast<std::size_t>(k)] = static_cast<float>(sinc * window);
      }
    }
    return table;
  }();
  return made;
}

}  // namespace

ClipSampler::ClipSampler(const SimulatedClip& clip) : clip_{&clip} {
  const double zero_s = clip.plan.sound_starts_s;
  for (const TrueStretch& stretch : clip.stretches) {
    const double from_s = std::max(stretch.clip_from_s, zero_s);
    const auto first = static_cast<std::int64_t>(std::ceil((from_s - zero_s) * rate_hz));
    const auto end = static_cast<std::int64_t>(std::ceil((stretch.clip_to_s - zero_s) * rate_hz));
    const double first_s = zero_s + static_cast<double>(first) / rate_hz;
    if (end > first) runs_.push_back({first, end, stretch.reading_s + first_s - stretch.clip_from_s});
  }
  out_.assign(runs_.empty() ? 0 : static_cast<std::size_t>(runs_.back().end), 0.0F);
  next_ = runs_.empty() ? 0 : runs_.front().first;
}

double ClipSampler::true_sample(const Run& run, std::int64_t n) const {
  return clip_->clock.true_time(run.reading_s + static_cast<double>(n - run.first) / rate_hz) * rate_hz;
}

float ClipSampler::interpolate(double at) const {
  const double whole = std::floor(at);
  const std::int64_t begin = static_cast<std::int64_t>(whole) - (half - 1) - recent_first_;
  if (begin < 0 || begin + taps > std::ssize(recent_)) return 0;
  const double phase = (at - whole) * phases;
  const auto p = static_cast<std::size_t>(phase);
  const auto part = static_cast<float>(phase - static_cast<double>(p));
  const auto& low = kernels()[p];
  const auto& high = kernels()[std::min<std::size_t>(p + 1, phases)];
  const float* x = recent_.data() + begin;
  float sum_low = 0;
  float sum_high = 0;
  for (std::size_t k = 0; k < taps; ++k) {
    sum_low += low[k] * x[k];
    sum_high += high[k] * x[k];
  }
  return sum_low + part * (sum_high - sum_low);
}

void ClipSampler::hear(std::int64_t first, std::span<const float> sound) {
  if (recent_.empty()) recent_first_ = first;
  recent_.insert(recent_.end(), sound.begin(), sound.end());
  const double ready = static_cast<double>(recent_first_ + std::ssize(recent_) - half - 1);
  while (run_ < runs_.size()) {
    const Run& run = runs_[run_];
    next_ = std::max(next_, run.first);
    const std::int64_t end = std::min(run.end, next_ + step);
    const double from = true_sample(run, next_);
    const double to = true_sample(run, end);
    if (to > ready) break;
    // Within 16 ms a clock's rate does not change: the line between the ends is exact to a picosecond.
    for (std::int64_t n = next_; n < end; ++n) {
      const double part = static_cast<double>(n - next_) / static_cast<double>(end - next_);
      out_[static_cast<std::size_t>(n)] = interpolate(from + part * (to - from));
    }
    next_ = end;
    if (next_ == run.end) ++run_;
  }
  const std::int64_t keep = 4 * step + 2 * taps;
  if (std::ssize(recent_) <= keep) return;
  // Sound before a clip begins, or inside a dropout, is not needed either.
  const double wanted = run_ < runs_.size() ? true_sample(runs_[run_], std::max(next_, runs_[run_].first)) : ready;
  const std::int64_t spare =
      std::min(static_cast<std::int64_t>(wanted) - taps - recent_first_, std::ssize(recent_) - keep);
  if (spare <= 0) return;
  recent_.erase(recent_.begin(), recent_.begin() + static_cast<std::ptrdiff_t>(spare));
  recent_first_ += spare;
}

std::vector<float> ClipSampler::take() { return std::move(out_); }

void ClipSampler::silence_gaps(std::vector<float>& samples) const {
  std::int64_t from = 0;
  for (const Run& run : runs_) {
    for (std::int64_t n = from; n < run.first; ++n) samples[static_cast<std::size_t>(n)] = 0;
    from = run.end;
  }
}

}  // namespace jigtime::bench
