#include "signal/correlate.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace jigtime::signal {

Correlation correlate(std::span<const float> a, std::span<const float> b) {
  if (a.empty() || b.empty()) throw std::logic_error{"nothing to correlate"};
  const auto lags = a.size() + b.size() - 1;
  const RealFft fft{fast_size(static_cast<int>(lags))};
  Samples padded_a(static_cast<std::size_t>(fft.size()), 0.0f), padded_b(padded_a);
  std::copy(a.begin(), a.end(), padded_a.begin());
  std::copy(b.begin(), b.end(), padded_b.begin());
  Spectrum spectrum_a, spectrum_b;
  fft.forward(padded_a, spectrum_a);
  fft.forward(padded_b, spectrum_b);
  for (std::size_t k = 0; k < spectrum_a.size(); ++k) spectrum_b[k] *= std::conj(spectrum_a[k]);
  fft.inverse(spectrum_b, padded_b);
  Correlation result;
  result.first_lag = 1 - static_cast<int>(a.size());
  result.values.resize(lags);
  for (std::size_t i = 0; i < lags; ++i) {
    const int lag = result.first_lag + static_cast<int>(i);
    result.values[i] = padded_b[static_cast<std::size_t>(lag < 0 ? lag + fft.size() : lag)];
  }
  return result;
}

Peak vertex(std::span<const float> values, int at) {
  const auto i = static_cast<std::size_t>(at);
  if (at <= 0 || i + 1 >= values.size()) return {static_cast<double>(at), values[i]};
  const double before = values[i - 1], here = values[i], after = values[i + 1];
  const double bend = before - 2 * here + after;
  if (bend == 0) return {static_cast<double>(at), here};
  const double shift = std::clamp((before - after) / (2 * bend), -0.5, 0.5);
  return {at + shift, here - (before - after) * shift / 4};
}

std::vector<Peak> highest_peaks(std::span<const float> values, int count, int apart) {
  std::vector<int> tops;
  for (int i = 0; i < static_cast<int>(values.size()); ++i) {
    const float here = std::abs(values[static_cast<std::size_t>(i)]);
    const bool over_left = i == 0 || here >= std::abs(values[static_cast<std::size_t>(i) - 1]);
    const bool over_right =
        i + 1 == static_cast<int>(values.size()) || here > std::abs(values[static_cast<std::size_t>(i) + 1]);
    if (over_left && over_right && here > 0) tops.push_back(i);
  }
  std::sort(tops.begin(), tops.end(), [&](int a, int b) {
    const float at_a = std::abs(values[static_cast<std::size_t>(a)]),
                at_b = std::abs(values[static_cast<std::size_t>(b)]);
    return at_a != at_b ? at_a > at_b : a < b;
  });
  std::vector<Peak> peaks;
  for (const int top : tops) {
    if (static_cast<int>(peaks.size()) >= count) break;
    const bool crowded = std::any_of(peaks.begin(), peaks.end(),
                                     [&](const Peak& peak) { return std::abs(peak.position - top) < apart; });
    if (!crowded) peaks.push_back(vertex(values, top));
  }
  for (Peak& peak : peaks) peak.height = std::abs(peak.height);
  return peaks;
}

WhitenedCorrelator::WhitenedCorrelator(int size, int sample_rate_hz, Whitening whitening)
    : fft_{size}, exponent_{whitening.exponent} {
  const double bin_hz = static_cast<double>(sample_rate_hz) / size;
  low_bin_ = std::max(1, static_cast<int>(std::lround(whitening.low_hz / bin_hz)));
  high_bin_ = std::min(size / 2 - 1, static_cast<int>(std::lround(whitening.high_hz / bin_hz)));
  if (low_bin_ >= high_bin_) throw std::logic_error{"no band to correlate in"};
}

std::span<const float> WhitenedCorrelator::operator()(const Samples& a, const Samples& b, int reach) {
  fft_.forward(a, spectrum_a_);
  fft_.forward(b, spectrum_b_);
  double total = 0;
  const auto half_exponent = static_cast<float>(exponent_ / 2);
  std::fill(spectrum_a_.begin(), spectrum_a_.begin() + low_bin_, 0.0f);
  std::fill(spectrum_a_.begin() + high_bin_ + 1, spectrum_a_.end(), 0.0f);
  for (int k = low_bin_; k <= high_bin_; ++k) {
    const auto i = static_cast<std::size_t>(k);
    const std::complex<float> cross = std::conj(spectrum_a_[i]) * spectrum_b_[i];
    const float power = std::norm(cross);
    if (!(power > 0) || !std::isfinite(power)) {
      spectrum_a_[i] = 0;
      continue;
    }
    const float magnitude = std::sqrt(power);
    const float divisor = exponent_ == 1 ? magnitude : std::pow(power, half_exponent);
    spectrum_a_[i] = cross / divisor;
    total += magnitude / divisor;  // what std::abs gives, without its care for overflow: power is finite
  }
  lags_.assign(static_cast<std::size_t>(2 * reach + 1), 0.0f);
  if (!(total > 0)) return lags_;
  fft_.inverse(spectrum_a_, circular_);
  const auto scale = static_cast<float>(fft_.size() / (2 * total));
  for (int lag = -reach; lag <= reach; ++lag) {
    const int place = lag < 0 ? lag + fft_.size() : lag;
    lags_[static_cast<std::size_t>(lag + reach)] = circular_[static_cast<std::size_t>(place)] * scale;
  }
  return lags_;
}

}  // namespace jigtime::signal
