// A straight line through lags: how one clip's time lies against another's.
// Must never know: where the lags came from.
#pragma once

#include <span>
#include <vector>

namespace jigtime::sync {

/// Lag in seconds at clip time t of clip a: lag + slope * (t - at). What a hears at t, b hears at t + lag.
struct Line {
  double at = 0;
  double lag = 0;
  double slope = 0;
  double operator()(double t) const { return lag + slope * (t - at); }
};

/// The same from b's side: what b hears at t, a hears at t + reversed(line)(t).
inline Line reversed(const Line& line) { return {line.at + line.lag, -line.lag, -line.slope / (1 + line.slope)}; }

/// Two cameras' clocks differ by less than this: consumer crystals keep 100 ppm each.
inline constexpr double most_slope = 220e-6;

struct LagPeak {
  double lag = 0;  ///< seconds
  double z = 0;    ///< height over the noise of the lags around
};

struct Observation {
  double at = 0;
  double lag = 0;
  double weight = 1;
};
struct Fit {
  Line line;          ///< `at` is the weighted middle of the observations
  double spread = 0;  ///< robust standard deviation of the residuals, seconds
};
/// Robust straight line. `slope_prior_sigma` holds the slope near slope_prior where the observations cannot tell.
/// Precondition: not empty.
Fit fit_line(std::span<const Observation> observations, double slope_prior, double slope_prior_sigma);

}  // namespace jigtime::sync
