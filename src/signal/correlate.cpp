#include "signal/correlate.h"

#include <algorithm>
#include <array>
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

std::vector<Peak> highest_peaks(std::span<const float> values, int count, int apart, float least) {
  std::vector<int> tops;
  for (int i = 0; i < static_cast<int>(values.size()); ++i) {
    const float here = std::abs(values[static_cast<std::size_t>(i)]);
    if (here < least) continue;
    const bool over_left = i == 0 || here >= std::abs(values[static_cast<std::size_t>(i) - 1]);
    const bool over_right =
        i + 1 == static_cast<int>(values.size()) || here > std::abs(values[static_cast<std::size_t>(i) + 1]);
    if (over_left && over_right && here > 0) tops.push_back(i);
  }
  const auto lower = [&](int a, int b) {
    const float at_a = std::abs(values[static_cast<std::size_t>(a)]),
                at_b = std::abs(values[static_cast<std::size_t>(b)]);
    return at_a != at_b ? at_a < at_b : a > b;
  };
  // Of many thousands a few are wanted: a heap, since sorting all would cost most of a coarse search.
  std::make_heap(tops.begin(), tops.end(), lower);
  std::vector<Peak> peaks;
  while (!tops.empty() && static_cast<int>(peaks.size()) < count) {
    std::pop_heap(tops.begin(), tops.end(), lower);
    const int top = tops.back();
    tops.pop_back();
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

namespace {

/// The cross-spectrum of two bins over a power of its magnitude, and what that leaves of the magnitude.
class Whitener {
 public:
  explicit Whitener(double exponent) : half_exponent_{static_cast<float>(exponent / 2)}, eighths_{exponent == 0.875} {}

  /// Works on `count` bins of real and imaginary parts in turn; the result replaces a. Gives the sum of magnitudes.
  double operator()(float* a, const float* b, std::size_t count) const {
    return eighths_ ? whiten(a, b, count, [](float power, float& left) { return by_eighths(power, left); })
                    : whiten(a, b, count, [half = half_exponent_](float power, float& left) {
                        const float divisor = std::pow(power, half);
                        left = std::sqrt(power) / divisor;
                        return 1 / divisor;
                      });
  }

 private:
  /// Roots only: the library's power takes most of the time otherwise. 1 / p^(7/16) is p^(1/16) / p^(1/2).
  static float by_eighths(float power, float& left) {
    const float root = std::sqrt(power);
    left = std::sqrt(std::sqrt(std::sqrt(root)));
    return left / root;
  }
  template <class Factor>
  static double whiten(float* a, const float* b, std::size_t count, const Factor& factor) {
    constexpr float least = 1e-30f;  // of a power: below it there is nothing
    constexpr std::size_t at_once = 256;
    std::array<float, at_once> left{};
    double total = 0;
    for (std::size_t first = 0; first < count; first += at_once) {
      const std::size_t bins = std::min(at_once, count - first);
      float* const to = a + 2 * first;
      const float* const with = b + 2 * first;
      for (std::size_t i = 0; i < bins; ++i) {
        const std::size_t k = 2 * i;
        const float real = to[k] * with[k] + to[k + 1] * with[k + 1];
        const float imaginary = to[k] * with[k + 1] - to[k + 1] * with[k];
        const float scale = factor(std::max(real * real + imaginary * imaginary, least), left[i]);
        to[k] = real * scale;
        to[k + 1] = imaginary * scale;
      }
      // Apart from the loop above, which needs no order and is done several bins at once.
      float sum = 0;
      for (std::size_t i = 0; i < bins; ++i) sum += left[i];
      total += static_cast<double>(sum);
    }
    return total;
  }

  float half_exponent_;
  bool eighths_;
};

}  // namespace

std::span<const float> WhitenedCorrelator::operator()(const Samples& a, const Samples& b, int reach) {
  fft_.forward(a, spectrum_a_);
  fft_.forward(b, spectrum_b_);
  std::fill(spectrum_a_.begin(), spectrum_a_.begin() + low_bin_, 0.0f);
  std::fill(spectrum_a_.begin() + high_bin_ + 1, spectrum_a_.end(), 0.0f);
  const double total = Whitener{exponent_}(reinterpret_cast<float*>(&spectrum_a_[static_cast<std::size_t>(low_bin_)]),
                                           reinterpret_cast<float*>(&spectrum_b_[static_cast<std::size_t>(low_bin_)]),
                                           static_cast<std::size_t>(high_bin_ - low_bin_ + 1));
  lags_.assign(static_cast<std::size_t>(2 * reach + 1), 0.0f);
  if (!std::isfinite(total)) return lags_;  // what is no number, or overflowed, is no sound
  fft_.inverse(spectrum_a_, circular_);
  const auto scale = static_cast<float>(fft_.size() / (2 * total));
  for (int lag = -reach; lag <= reach; ++lag) {
    const int place = lag < 0 ? lag + fft_.size() : lag;
    lags_[static_cast<std::size_t>(lag + reach)] = circular_[static_cast<std::size_t>(place)] * scale;
  }
  return lags_;
}

}  // namespace jigtime::signal
