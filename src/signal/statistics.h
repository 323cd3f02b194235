// Middles and spreads that a few wild values cannot spoil.
#pragma once

#include <span>
#include <vector>

namespace jigtime::signal {

/// Makes the spread of a normal distribution out of its median absolute deviation: 1 / (0.75 quantile of N(0, 1)).
inline constexpr double mad_to_sigma = 1.4826;

/// Value below which the fraction `share` (0 to 1) of the values lies, to the nearest value. Precondition: not empty.
double quantile(std::vector<double> values, double share);
double median(std::vector<double> values);

struct Spread {
  double middle = 0;
  double sigma = 0;  ///< 1.4826 times the median absolute deviation
};
/// Precondition: not empty.
Spread robust_spread(std::span<const double> values);

struct Weighted {
  double value = 0;
  double weight = 0;
};
/// The value at which half of the weight lies on either side. Precondition: some weight is above zero.
double weighted_median(std::vector<Weighted> values);

/// log10 of the chance that at least `hits` of `trials` succeed, each by itself with `chance`; 0 for hits <= 0.
double log10_binomial_tail(int hits, int trials, double chance);

}  // namespace jigtime::signal
