// How a camera's own clock runs against true time.
// The range to draw from is of tens of parts per million: crystals of consumer devices are sold with +-20 to +-100
// ppm over temperature (from memory; no measurement of cameras was at hand).
#pragma once

namespace jigtime::bench {

/// reading(t) = t + rate * t + warming * (t - tau * (1 - exp(-t / tau))): the rate goes from `rate` to
/// `rate + warming` as the camera warms.
struct CameraClock {
  double rate_ppm = 0;
  double warming_ppm = 0;
  double warming_tau_s = 1200;

  double reading(double true_s) const;
  /// The inverse, within 1 ns for the rates of real clocks.
  double true_time(double reading_s) const;
  /// Parts per million that the clock runs fast at this moment.
  double rate_at(double true_s) const;
};

}  // namespace jigtime::bench
