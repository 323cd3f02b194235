#include "signal/statistics.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace jigtime::signal {

double quantile(std::vector<double> values, double share) {
  if (values.empty()) throw std::logic_error{"no values, no quantile"};
  const double place = std::clamp(share, 0.0, 1.0) * static_cast<double>(values.size() - 1);
  const auto nth = values.begin() + static_cast<std::ptrdiff_t>(std::lround(place));
  std::nth_element(values.begin(), nth, values.end());
  return *nth;
}

double median(std::vector<double> values) {
  if (values.empty()) throw std::logic_error{"no values, no median"};
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  if (values.size() % 2 == 1) return *half;
  return (*half + *std::max_element(values.begin(), half)) / 2;
}

Spread robust_spread(std::span<const double> values) {
  Spread spread;
  spread.middle = median({values.begin(), values.end()});
  std::vector<double> distances;
  distances.reserve(values.size());
  for (const double value : values) distances.push_back(std::abs(value - spread.middle));
  spread.sigma = mad_to_sigma * median(std::move(distances));
  return spread;
}

double weighted_median(std::vector<Weighted> values) {
  std::sort(values.begin(), values.end(), [](const Weighted& a, const Weighted& b) { return a.value < b.value; });
  double total = 0;
  for (const Weighted& one : values) total += one.weight;
  if (!(total > 0)) throw std::logic_error{"no weight, no median"};
  double below = 0;
  for (const Weighted& one : values) {
    below += one.weight;
    if (below >= total / 2) return one.value;
  }
  return values.back().value;
}

double log10_binomial_tail(int hits, int trials, double chance) {
  if (hits <= 0) return 0;
  if (hits > trials || !(chance > 0)) return -INFINITY;
  if (chance >= 1) return 0;
  double largest = -INFINITY;
  std::vector<double> logs;
  for (int k = hits; k <= trials; ++k) {
    logs.push_back(std::lgamma(trials + 1.0) - std::lgamma(k + 1.0) - std::lgamma(trials - k + 1.0) +
                   k * std::log(chance) + (trials - k) * std::log1p(-chance));
    largest = std::max(largest, logs.back());
  }
  double sum = 0;
  for (const double one : logs) sum += std::exp(one - largest);
  return std::min(0.0, (largest + std::log(sum)) / std::log(10.0));
}

}  // namespace jigtime::signal
