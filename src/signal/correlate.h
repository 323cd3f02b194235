// How alike two stretches of samples are when one is shifted against the other.
#pragma once

#include <span>
#include <vector>

#include "signal/fft.h"

namespace jigtime::signal {

/// r[i] = sum over n of a[n] * b[n + lag] with lag = first_lag + i, zeros outside both; all lags at which they overlap.
struct Correlation {
  int first_lag = 0;
  std::vector<float> values;
};
/// By transforms. Preconditions: neither is empty. As scipy.signal.correlate(b, a, "full") orders its values.
Correlation correlate(std::span<const float> a, std::span<const float> b);

/// A local maximum between samples.
struct Peak {
  double position = 0;  ///< in samples, by a parabola through the three highest
  double height = 0;
};
/// Vertex of the parabola through values[at - 1 .. at + 1]; the sample itself at the borders or on a flat top.
Peak vertex(std::span<const float> values, int at);

/// The highest local maxima of |values|, highest first, no two closer than `apart` samples, none of a sample below
/// `least`.
std::vector<Peak> highest_peaks(std::span<const float> values, int count, int apart, float least = 0);

struct Whitening {
  double low_hz = 300;
  double high_hz = 7000;
  double exponent = 1;  ///< 0 is plain correlation, 1 the phase transform
};

/// Generalised cross-correlation (Knapp and Carter 1976, IEEE ASSP-24: 320-327): the cross-spectrum of two equally long
/// stretches, divided by its magnitude to the power of `exponent`, within a band. Working memory is kept between calls:
/// one object for each thread.
class WhitenedCorrelator {
 public:
  /// Precondition: size is even.
  WhitenedCorrelator(int size, int sample_rate_hz, Whitening whitening);
  int size() const { return fft_.size(); }
  /// Values for lags -reach to +reach (circular: a lag loses reach / size of the overlap); lag is where b is later.
  /// Scaled so that a pure copy gives 1 at its lag, whatever the exponent; all zeros when either stretch is silent.
  /// Preconditions: both have size() samples; reach < size() / 2. The result lives until the next call.
  std::span<const float> operator()(const Samples& a, const Samples& b, int reach);

 private:
  RealFft fft_;
  int low_bin_;
  int high_bin_;
  double exponent_;
  Spectrum spectrum_a_, spectrum_b_;
  Samples circular_;
  std::vector<float> lags_;
};

}  // namespace jigtime::signal
