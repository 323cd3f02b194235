#include "sync/common_slope.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

constexpr std::size_t all_partners = 8;  // of each observation, the next ones in time; then ever fewer, ever farther
constexpr double least_width = 1e-4;     // seconds within which two lags lie on one line
constexpr double most_width = 2e-3;
constexpr double usual_slope = 80e-6;  // standard deviation between two cameras
constexpr double least_sigma = 0.5e-6;
constexpr double far_lag = 0.008;
// What two lags differ by along the true slope: nothing, if the sound came from one place; the way from one place in
// the shop to another; or anything, if one of them is luck.
constexpr double one_place = 0.4, two_places = 0.55, luck = 0.05;
constexpr double places_apart = 0.012;  // seconds, standard deviation
constexpr double luck_reach = 0.12;     // seconds
// From coarse to fine: what is looked at next must hold nearly all of what the steps before leave possible.
constexpr double first_step = 4e-6, last_step = 0.25e-6;
constexpr double finer = 4;
constexpr double as_good_as_none = 1e-4;  // of the likeliest slope's likelihood

struct Pairing {
  double apart = 0;  ///< seconds
  double moved = 0;  ///< of the lag
};

std::vector<Pairing> pairings_of(std::span<const Observation> all) {
  std::vector<Pairing> pairings;
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t next = 1; i + next < all.size(); next += std::max<std::size_t>(1, next / all_partners)) {
      const Observation &one = all[i], &other = all[i + next];
      if (other.at > one.at) pairings.push_back({other.at - one.at, other.lag - one.lag});
    }
  }
  return pairings;
}

/// How much lags of one place scatter: by the steps between neighbours, what they have in common left out; few
/// neighbours lie on either side of a change of place.
double width_of(std::span<const Observation> all) {
  std::vector<double> steps;
  for (std::size_t i = 0; i + 1 < all.size(); ++i) steps.push_back(all[i + 1].lag - all[i].lag);
  if (steps.empty()) return most_width;
  return std::clamp(signal::robust_spread(steps).sigma, least_width, most_width);
}

/// A pairing as it is looked at where the slope may be off by half a step.
struct Smeared {
  double apart = 0;
  double moved = 0;
  double narrowness = 0;  ///< one over twice the square of the width
  double height = 0;
};

std::vector<Smeared> smeared(const std::vector<Pairing>& pairings, double step, double width) {
  std::vector<Smeared> all;
  all.reserve(pairings.size());
  for (const Pairing& pairing : pairings) {
    const double wide = std::hypot(width, step / 2 * pairing.apart);
    all.push_back(
        {pairing.apart, pairing.moved, 1 / (2 * wide * wide), one_place / (wide * std::sqrt(2 * std::numbers::pi))});
  }
  return all;
}

/// Logarithm of how likely the pairings are along the slope.
double likelihood(const std::vector<Smeared>& pairings, double slope) {
  constexpr double narrowness = 1 / (2 * places_apart * places_apart);
  constexpr int logs_together = 16;  // none is above 2,000 or below 0.4
  const double height = two_places / (places_apart * std::sqrt(2 * std::numbers::pi));
  double sum = 0, product = 1;
  int together = 0;
  for (const Smeared& one : pairings) {
    const double off = one.moved - slope * one.apart, square = off * off;
    product *=
        one.height * std::exp(-square * one.narrowness) + height * std::exp(-square * narrowness) + luck / luck_reach;
    if (++together < logs_together) continue;
    sum += std::log(product);
    product = 1;
    together = 0;
  }
  return sum + std::log(product);
}

struct Guess {
  double slope = 0;
  double sigma = 0;
};

/// Mean and standard deviation of what the pairings leave of the usual slopes.
Guess likeliest(const std::vector<Pairing>& pairings, double weight, double width) {
  double from = -most_slope, to = most_slope;
  for (double step = first_step;; step /= finer) {
    const int count = static_cast<int>((to - from) / step) + 1;
    std::vector<double> logs;
    const std::vector<Smeared> seen = smeared(pairings, step, width);
    for (int k = 0; k < count; ++k) {
      const double slope = from + k * step;
      logs.push_back(weight * likelihood(seen, slope) - slope * slope / (2 * usual_slope * usual_slope));
    }
    const double best = *std::max_element(logs.begin(), logs.end());
    double sum = 0, first = 0, second = 0;
    int lowest = count, highest = 0;
    for (int k = 0; k < count; ++k) {
      const double share = std::exp(logs[static_cast<std::size_t>(k)] - best), slope = from + k * step;
      sum += share;
      first += share * slope;
      second += share * slope * slope;
      if (share < as_good_as_none) continue;
      lowest = std::min(lowest, k);
      highest = std::max(highest, k);
    }
    const double mean = first / sum;
    if (step <= last_step) return {mean, std::sqrt(std::max(0.0, second / sum - mean * mean))};
    to = from + (highest + 1) * step;
    from += (lowest - 1) * step;
  }
}

double spread_along(std::span<const Observation> all, double slope) {
  std::vector<double> lags;
  for (const Observation& one : all) lags.push_back(one.lag - slope * (one.at - all.front().at));
  const double middle = signal::median(lags);
  double sum = 0, weights = 0;
  for (const double lag : lags) {
    const double off = lag - middle, weight = 1 / (1 + off * off / (far_lag * far_lag));
    sum += weight * off * off;
    weights += weight;
  }
  return std::sqrt(sum / weights);
}

}  // namespace

CommonSlope common_slope(std::span<const Observation> observations) {
  if (observations.empty()) throw std::logic_error{"no observations, no slope"};
  CommonSlope common{0, usual_slope, 0};
  const std::vector<Pairing> pairings = pairings_of(observations);
  if (!pairings.empty()) {
    // Each observation stands in many pairings, but says only one thing.
    const double weight = static_cast<double>(observations.size() - 1) / static_cast<double>(pairings.size());
    const Guess guess = likeliest(pairings, weight, width_of(observations));
    common.slope = guess.slope;
    common.sigma = std::clamp(guess.sigma, least_sigma, usual_slope);
  }
  common.spread = spread_along(observations, common.slope);
  return common;
}

CommonSlope KnownSlopes::of(int pair, std::span<const Observation> observations) {
  if (observations.empty()) throw std::logic_error{"no observations, no slope"};
  const Key key{pair, observations.front().at, observations.back().at, observations.size()};
  const auto known = known_.find(key);
  return known != known_.end() ? known->second : known_.emplace(key, common_slope(observations)).first->second;
}

}  // namespace jigtime::sync
