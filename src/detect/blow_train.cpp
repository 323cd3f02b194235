#include "detect/blow_train.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "detect/envelope.h"

namespace jigtime::detect {
namespace {

constexpr int shortest_lag = 2;
constexpr int longest_lag = 136;  // two of the slowest blows: the second must repeat too
constexpr int longest_period = static_cast<int>(frames_per_second / slowest_blows_hz) + 1;
constexpr int shortest_period =
    static_cast<int>(frames_per_second / fastest_blows_hz) + 1;  // whole lags within the limit
constexpr std::size_t longest_window = 512;

using Correlations = std::array<float, longest_lag + 1>;

float product(const float* a, const float* b, int count) {
  std::array<float, 4> sums{};
  int n = 0;
  for (; n + 4 <= count; n += 4) {
    sums[0] += a[n] * b[n];
    sums[1] += a[n + 1] * b[n + 1];
    sums[2] += a[n + 2] * b[n + 2];
    sums[3] += a[n + 3] * b[n + 3];
  }
  for (; n < count; ++n) sums[0] += a[n] * b[n];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

/// Correlation of the stretch with itself against the power of the whole, so that one loud knock among nothing does
/// not make its surroundings alike.
bool correlate(std::span<const float> loudness, Correlations& out) {
  const int count = static_cast<int>(std::min(loudness.size(), longest_window));
  if (count < longest_lag + 60) return false;
  std::array<float, longest_window> x{};
  float mean = 0;
  for (int n = 0; n < count; ++n) mean += loudness[static_cast<std::size_t>(n)];
  mean /= static_cast<float>(count);
  for (int n = 0; n < count; ++n) x[static_cast<std::size_t>(n)] = loudness[static_cast<std::size_t>(n)] - mean;
  const float whole = product(x.data(), x.data(), count);
  if (!(whole > 1e-12F)) return false;
  for (int lag = shortest_lag; lag <= longest_lag; ++lag) {
    const float fewer = static_cast<float>(count) / static_cast<float>(count - lag);
    out[static_cast<std::size_t>(lag)] = fewer * product(x.data(), x.data() + lag, count - lag) / whole;
  }
  return true;
}

bool is_peak(const Correlations& r, int lag) {
  const auto k = static_cast<std::size_t>(lag);
  return r[k] >= r[k - 1] && r[k] >= r[k + 1];
}

/// The highest correlation within a tenth of this lag.
float around(const Correlations& r, double lag) {
  float best = -1;
  for (int k = static_cast<int>(std::floor(0.9 * lag)); k <= static_cast<int>(std::ceil(1.1 * lag)); ++k) {
    if (k >= shortest_lag && k <= longest_lag) best = std::max(best, r[static_cast<std::size_t>(k)]);
  }
  return best;
}

struct Peak {
  int lag = 0;
  float contrast = 0;  ///< correlation above the lowest on the way there
};

/// The first lag that stands nearly as high as the highest: multiples of the true period repeat about as well as it.
Peak first_high_peak(const Correlations& r) {
  std::array<Peak, longest_period> peaks{};
  std::size_t count = 0;
  float low = r[shortest_lag];
  float highest = 0;
  for (int lag = shortest_lag + 1; lag <= longest_period; ++lag) {
    const float here = r[static_cast<std::size_t>(lag)];
    low = std::min(low, here);
    if (!is_peak(r, lag) || here - low < 0.15F) continue;
    peaks[count++] = {lag, here - low};
    highest = std::max(highest, here - low);
  }
  const auto end = peaks.begin() + static_cast<std::ptrdiff_t>(count);
  const auto found =
      std::find_if(peaks.begin(), end, [&](const Peak& peak) { return peak.contrast >= 0.65F * highest; });
  return found == end ? Peak{} : *found;
}

}  // namespace

std::optional<BlowTrain> blow_train(std::span<const float> loudness) {
  Correlations r{};
  if (!correlate(loudness, r)) return std::nullopt;
  const Peak best = first_high_peak(r);
  if (best.lag < shortest_period) return std::nullopt;
  const float once = r[static_cast<std::size_t>(best.lag)];
  const float twice = around(r, 2.0 * best.lag);
  if (once <= 0.15F || twice <= 0.1F) return std::nullopt;
  return BlowTrain{static_cast<double>(frames_per_second) / best.lag, std::min<double>(0.5 * (once + twice), 1.0),
                   static_cast<double>(best.contrast)};
}

}  // namespace jigtime::detect
