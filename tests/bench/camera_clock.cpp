#include "bench/camera_clock.h"

#include <cmath>

namespace jigtime::bench {

double CameraClock::reading(double true_s) const {
  const double warmed = true_s - warming_tau_s * (1 - std::exp(-true_s / warming_tau_s));
  return true_s + 1e-6 * (rate_ppm * true_s + warming_ppm * warmed);
}

double CameraClock::true_time(double reading_s) const {
  double t = reading_s;
  for (int i = 0; i < 4; ++i) t -= reading(t) - reading_s;
  return t;
}

double CameraClock::rate_at(double true_s) const {
  return rate_ppm + warming_ppm * (1 - std::exp(-true_s / warming_tau_s));
}

}  // namespace jigtime::bench
