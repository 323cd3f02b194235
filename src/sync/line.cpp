#include "sync/line.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

struct Top {
  int window = 0;
  double at = 0;
  double lag = 0;
};

std::vector<Top> tops_of(std::span<const Window> windows, double least_z) {
  std::vector<Top> tops;
  for (std::size_t i = 0; i < windows.size(); ++i) {
    if (windows[i].peaks.empty() || windows[i].peaks.front().z < least_z) continue;
    tops.push_back({static_cast<int>(i), windows[i].at, windows[i].peaks.front().lag});
  }
  return tops;
}

int count_on(const std::vector<Top>& tops, const Line& line, double tolerance) {
  int count = 0;
  for (const Top& top : tops) count += std::abs(top.lag - line(top.at)) <= tolerance ? 1 : 0;
  return count;
}

/// The line through two tops, or through one with the guess's slope.
bool line_through(const Top& a, const Top& b, const Line& guess, double slope_reach, Line& line) {
  line = {a.at, a.lag, guess.slope};
  if (a.window == b.window) return true;
  if (slope_reach <= 0 || a.at == b.at) return false;
  line.slope = (b.lag - a.lag) / (b.at - a.at);
  return std::abs(line.slope - guess.slope) <= slope_reach;
}

/// Cells of offset and slope that the tolerance tells apart: as many independent tries at luck.
double log10_tries(const std::vector<Top>& tops, const ConsensusRules& rules, double tolerance) {
  const double offsets = rules.reach / tolerance;
  const double length = tops.back().at - tops.front().at;
  const double slopes = 1 + rules.slope_reach * length / tolerance;
  return std::log10(offsets * slopes);
}

}  // namespace

Consensus agree(std::span<const Window> windows, const Line& guess, const ConsensusRules& rules) {
  Consensus best;
  const std::vector<Top> tops = tops_of(windows, rules.least_z);
  best.windows = static_cast<int>(tops.size());
  if (tops.empty()) return best;
  // Sound from one spot agrees within a fraction of a millisecond, sound from all over a shop within ten.
  for (const double tolerance : {0.0015, 0.008}) {
    int most = 0;
    Line line, at_most;
    for (const Top& a : tops) {
      for (const Top& b : tops) {
        if (!line_through(a, b, guess, rules.slope_reach, line)) continue;
        const int count = count_on(tops, line, tolerance);
        if (count > most) {
          most = count;
          at_most = line;
        }
      }
    }
    const double chance = std::min(1.0, tolerance / rules.reach);
    // The window that the line was drawn through proves nothing.
    const double log10_chance = signal::log10_binomial_tail(most - 1, best.windows - 1, chance) +
                                std::max(0.0, log10_tries(tops, rules, tolerance) + std::log10(chance)) + std::log10(2);
    if (best.agreed.empty() || log10_chance < best.log10_chance) {
      best.log10_chance = std::min(0.0, log10_chance);
      best.line = at_most;
      best.agreed.clear();
      for (const Top& top : tops) {
        if (std::abs(top.lag - at_most(top.at)) <= 0.008) best.agreed.push_back(top.window);
      }
    }
  }
  return best;
}

Fit fit_line(std::span<const Observation> observations, double slope_prior, double slope_prior_sigma) {
  if (observations.empty()) throw std::logic_error{"no observations, no line"};
  Fit fit;
  std::vector<signal::Weighted> lags;
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
    fit.effective = sum * sum / sum_square;
    double moment = 0, product = 0;
    for (std::size_t i = 0; i < observations.size(); ++i) {
      const double weight = factors[i] * observations[i].weight * fit.effective / sum;
      const double along = observations[i].at - mean_at;
      moment += weight * along * along;
      product += weight * along * (observations[i].lag - mean_lag);
    }
    const double variance = fit.spread * fit.spread;
    const double prior = variance / (slope_prior_sigma * slope_prior_sigma);
    fit.line = {mean_at, mean_lag, (product + prior * slope_prior) / (moment + prior)};
    fit.lag_sigma = fit.spread / std::sqrt(fit.effective);
    fit.slope_sigma = fit.spread / std::sqrt(moment + prior);
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
