// Second-order filters with one state each.
#pragma once

namespace jigtime::demo {

/// Coefficients after the widely used audio-EQ cookbook of R. Bristow-Johnson (bilinear transform; from memory).
class Filter {
 public:
  static Filter low_pass(double hz, double rate_hz, double q = 0.7071);
  static Filter high_pass(double hz, double rate_hz, double q = 0.7071);
  /// Peak gain 1 at `hz`.
  static Filter band_pass(double hz, double rate_hz, double q);

  float operator()(float in) {
    const float out = b0_ * in + s1_;
    s1_ = b1_ * in - a1_ * out + s2_;
    s2_ = b2_ * in - a2_ * out;
    return out;
  }

 private:
  Filter(double b0, double b1, double b2, double a0, double a1, double a2);
  float b0_, b1_, b2_, a1_, a2_;
  float s1_ = 0;
  float s2_ = 0;
};

}  // namespace jigtime::demo
