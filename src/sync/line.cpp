#include "sync/line.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "signal/statistics.h"

namespace jigtime::sync {

Fit fit_line(std::span<const Observation> observations, double slope_prior, double slope_prior_sigma) {
  if (observations.empty()) throw std::logic_error{"no observations, no line"};
  Fit fit;
  std::vector<double> factors(observations.size(), 1.0), residuals(observations.size());
  fit.line.slope = slope_prior;
  fit.spread = 0.02;
  for (int round = 0; round < 12; ++round) {
    double sum = 0, sum_square = 0, mean_at = 0, mean_lag = 0;
    for (std::size_t i = 0; i < observations.size(); ++i) {
      const double weight = factors[i] * observations[i].weight;
      sum += weight;
      sum_square += weight * weight;
      mean_at += weight * observations[i].at;
      mean_lag += weight * observations[i].lag;
    }
    mean_at /= sum;
    mean_lag /= sum;
    const double effective = sum * sum / sum_square;
    double moment = 0, product = 0;
    for (std::size_t i = 0; i < observations.size(); ++i) {
      const double weight = factors[i] * observations[i].weight * effective / sum;
      const double along = observations[i].at - mean_at;
      moment += weight * along * along;
      product += weight * along * (observations[i].lag - mean_lag);
    }
    const double variance = fit.spread * fit.spread;
    const double prior = variance / (slope_prior_sigma * slope_prior_sigma);
    fit.line = {mean_at, mean_lag, (product + prior * slope_prior) / (moment + prior)};
    for (std::size_t i = 0; i < residuals.size(); ++i)
      residuals[i] = observations[i].lag - fit.line(observations[i].at);
    std::vector<double> distances;
    for (const double residual : residuals) distances.push_back(std::abs(residual));
    // Down by halves at the most, so that an early wrong slope does not shut out the ends.
    const double spread = signal::mad_to_sigma * signal::median(std::move(distances));
    fit.spread = std::max({spread, fit.spread / 2, 2e-5});
    for (std::size_t i = 0; i < residuals.size(); ++i) {
      const double far = residuals[i] / (2.5 * fit.spread);
      factors[i] = 1 / (1 + far * far);
    }
  }
  return fit;
}

}  // namespace jigtime::sync
