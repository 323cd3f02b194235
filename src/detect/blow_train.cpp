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
constexpr int shortest_period = static_cast<int>(frames_per_second / fastest_blows_hz);
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

/// Correlation of the stretch with itself, each lag against the power of the two parts that meet there.
bool correlate(std::span<const float> amplitude, Correlations& out) {
  const int count = static_cast<int>(std::min(amplitude.size(), longest_window));
  if (count < longest_lag + 60) return false;
  std::array<float, longest_window> x{};
  float mean = 0;
  for (int n = 0; n < count; ++n) mean += amplitude[static_cast<std::size_t>(n)];
  mean /= static_cast<float>(count);
  for (int n = 0; n < count; ++n) x[static_cast<std::size_t>(n)] = amplitude[static_cast<std::size_t>(n)] - mean;
  const float whole = product(x.data(), x.data(), count);
  if (!(whole > 1e-12F)) return false;
  float head = whole;
  float tail = whole;
  for (int lag = 1; lag <= longest_lag; ++lag) {
    const float last = x[static_cast<std::size_t>(count - lag)];
    const float first = x[static_cast<std::size_t>(lag - 1)];
    head -= last * last;
    tail -= first * first;
    if (lag < shortest_lag) continue;
    const float power = std::sqrt(std::max(head * tail, 0.0F));
    const float sum = product(x.data(), x.data() + lag, count - lag);
    out[static_cast<std::size_t>(lag)] = power > 0.02F * whole ? sum / power : 0;
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
  float contrast = 0;
};

/// The lag whose correlation stands highest above the lowest on the way there.
Peak best_peak(const Correlations& r) {
  Peak best;
  float low = r[shortest_lag];
  for (int lag = shortest_lag + 1; lag <= longest_period; ++lag) {
    const float here = r[static_cast<std::size_t>(lag)];
    low = std::min(low, here);
    if (!is_peak(r, lag) || here - low < 0.15F) continue;
    // A later peak must be clearly higher: multiples of the true period stand about as high as it.
    if (best.lag == 0 || here - low > best.contrast + 0.12F) best = {lag, here - low};
  }
  return best;
}

}  // namespace

std::optional<BlowTrain> blow_train(std::span<const float> amplitude) {
  Correlations r{};
  if (!correlate(amplitude, r)) return std::nullopt;
  const Peak best = best_peak(r);
  if (best.lag < shortest_period) return std::nullopt;
  const float once = r[static_cast<std::size_t>(best.lag)];
  const float twice = around(r, 2.0 * best.lag);
  if (once <= 0.15F || twice <= 0.1F) return std::nullopt;
  return BlowTrain{static_cast<double>(frames_per_second) / best.lag, std::min<double>(0.5 * (once + twice), 1.0),
                   static_cast<double>(best.contrast)};
}

}  // namespace jigtime::detect
