// The rate of one clip against another, from lags that lie on several parallel lines.
// Must never know: where the lags came from.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <tuple>

#include "sync/line.h"

namespace jigtime::sync {

struct CommonSlope {
  double slope = 0;
  double sigma = 0;   ///< standard error of the slope
  double spread = 0;  ///< root of the mean square of the lags along the slope, seconds; far ones count less
};

/// Sound that comes from one place for a while and then from another gives a line each, with the clocks' slope in
/// common and milliseconds between them: one line laid through all would take the way of the work along the bench for a
/// rate. The slope is the mean, and sigma the
/// standard deviation, of what the pairs of observations, near and far, leave of the usual slopes. Precondition: not
/// empty, in order of time.
CommonSlope common_slope(std::span<const Observation> observations);

/// Remembers what it told: a session is solved many times over, and most of what its pairs heard stays the same.
class KnownSlopes {
 public:
  /// Of one pair; all that was ever asked of it are stretches of the same observations.
  CommonSlope of(int pair, std::span<const Observation> observations);

 private:
  using Key = std::tuple<int, double, double, std::size_t>;  // pair, from, to, count
  std::map<Key, CommonSlope> known_;
};

}  // namespace jigtime::sync
