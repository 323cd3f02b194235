#include "sync/common_slope.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>
#include <vector>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

constexpr int partners = 40;   // of each observation, the next ones in time
constexpr double near_s = 45;  // seconds: pairs that far apart mostly heard the same place
constexpr double slope_step = 1e-6;
constexpr double least_width = 1e-4;  // seconds within which two lags lie on one line
constexpr double most_width = 2e-3;
constexpr double usual_slope = 80e-6;  // standard deviation between two cameras
constexpr double least_sigma = 0.5e-6;
constexpr double far_lag = 0.008;

struct Pairing {
  std::size_t first = 0;
  std::size_t second = 0;
  double apart = 0;  // seconds
  double moved = 0;  // of the lag
};

std::vector<Pairing> pairings_of(std::span<const Observation> all) {
  std::vector<Pairing> pairings;
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i + 1; k < all.size() && k <= i + partners; ++k) {
      if (all[k].at > all[i].at) pairings.push_back({i, k, all[k].at - all[i].at, all[k].lag - all[i].lag});
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

double closeness(const Pairing& pairing, double slope, double width) {
  const double far = (pairing.moved - slope * pairing.apart) / width;
  return 1 / (1 + far * far);
}

/// Pairs up to `most` seconds apart; all of them where there are hardly any.
std::vector<Pairing> within(const std::vector<Pairing>& pairings, double most) {
  std::vector<Pairing> kept;
  std::copy_if(pairings.begin(), pairings.end(), std::back_inserter(kept),
               [most](const Pairing& pairing) { return pairing.apart <= most; });
  return kept.size() < 3 ? pairings : kept;
}

double best_on_grid(const std::vector<Pairing>& pairings, double width) {
  double best = 0, most = -1e9;
  for (int k = -static_cast<int>(most_slope / slope_step); k <= static_cast<int>(most_slope / slope_step); ++k) {
    const double slope = k * slope_step;
    double sum = -slope * slope / (2 * usual_slope * usual_slope);
    for (const Pairing& pairing : pairings) sum += closeness(pairing, slope, width);
    if (sum <= most) continue;
    most = sum;
    best = slope;
  }
  return best;
}

/// Least squares over the pairs that lie together.
double refined(const std::vector<Pairing>& pairings, double slope, double width) {
  for (int round = 0; round < 5; ++round) {
    double product = 0, moment = 0;
    for (const Pairing& pairing : pairings) {
      const double weight = std::pow(closeness(pairing, slope, width), 2);
      product += weight * pairing.apart * pairing.moved;
      moment += weight * pairing.apart * pairing.apart;
    }
    if (moment > 0) slope = product / moment;
  }
  return slope;
}

double sigma_of(const std::vector<Pairing>& pairings, std::size_t observations, double slope, double width) {
  double moment = 0, square = 0;
  std::vector<bool> used(observations, false);
  for (const Pairing& pairing : pairings) {
    const double weight = std::pow(closeness(pairing, slope, width), 2);
    const double off = pairing.moved - slope * pairing.apart;
    moment += weight * pairing.apart * pairing.apart;
    square += weight * off * off;
    if (weight > 0.25) used[pairing.first] = used[pairing.second] = true;
  }
  if (!(moment > 0)) return usual_slope;
  const auto count = static_cast<double>(std::count(used.begin(), used.end(), true));
  // As many independent pairs as half of the observations that lie together with another.
  const double error = std::sqrt((square + least_width * least_width) / moment) / std::sqrt(std::max(1.0, count / 2));
  return std::clamp(error, least_sigma, usual_slope);
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
    const double width = width_of(observations);
    common.slope = best_on_grid(within(pairings, near_s), width);
    // Ever farther pairs make it surer; those across a change of place stay out, since the slope is known well enough.
    const double length = observations.back().at - observations.front().at;
    for (double reach = near_s;; reach *= 2) {
      common.slope = refined(within(pairings, reach), common.slope, width);
      if (reach >= length) break;
    }
    common.sigma = sigma_of(pairings, observations.size(), common.slope, width);
  }
  common.spread = spread_along(observations, common.slope);
  return common;
}

}  // namespace jigtime::sync
