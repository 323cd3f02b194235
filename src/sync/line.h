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

/// Two cameras' clocks differ by less than this: consumer crystals keep 100 ppm each.
inline constexpr double most_slope = 250e-6;

struct LagPeak {
  double lag = 0;  ///< seconds
  double z = 0;    ///< height over the root mean square of the lags around
};

/// One fine comparison of a few seconds of both clips.
struct Window {
  double at = 0;               ///< clip seconds of a, middle
  std::vector<LagPeak> peaks;  ///< highest first; empty where nothing was to be heard
};

struct Consensus {
  Line line;
  std::vector<int> agreed;  ///< windows whose highest peak lies on the line, in order
  int windows = 0;          ///< windows that had a peak worth the name
  double log10_chance = 0;  ///< of as many agreeing if none of them meant anything, all lines tried counted in
};

struct ConsensusRules {
  double reach = 0.12;     ///< seconds to either side of `guess` in which the peaks were looked for
  double slope_reach = 0;  ///< how far the slope may be from the guess's
  double least_z = 5;
};

/// The line within reach of the guess on which most windows agree, found by trying the lines through any two of them.
Consensus agree(std::span<const Window> windows, const Line& guess, const ConsensusRules& rules);

struct Observation {
  double at = 0;
  double lag = 0;
  double weight = 1;
};
struct Fit {
  Line line;             ///< `at` is the weighted middle of the observations
  double spread = 0;     ///< robust standard deviation of the residuals, seconds
  double lag_sigma = 0;  ///< of line.lag
  double slope_sigma = 0;
  double effective = 0;  ///< number of observations after weighting
};
/// Robust straight line. `slope_prior_sigma` holds the slope near slope_prior where the observations cannot tell.
/// Precondition: not empty.
Fit fit_line(std::span<const Observation> observations, double slope_prior, double slope_prior_sigma);

}  // namespace jigtime::sync
