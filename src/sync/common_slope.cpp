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

double bell(double off, double width) { return std::exp(-off * off / (2 * width * width)) / width; }

/// Logarithm of how likely the pairings are, `step` being how far the slope may be off.
double likelihood(const std::vector<Pairing>& pairings, double slope, double step, double width) {
  const double peak = std::sqrt(2 * std::numbers::pi);
  double sum = 0;
  for (const Pairing& pairing : pairings) {
    const double off = pairing.moved - slope * pairing.apart;
    const double smeared = std::hypot(width, step / 2 * pairing.apart);
    sum += std::log(one_place * bell(off, smeared) / peak + two_places * bell(off, places_apart) / peak +
                    luck / luck_reach);
  }
  return sum;
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
    for (int k = 0; k < count; ++k) {
      const double slope = from + k * step;
      logs.push_back(weight * likelihood(pairings, slope, step, width) -
                     slope * slope / (2 * usual_slope * usual_slope));
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

}  // namespace jigtime::sync
