// How well a delay can be known at all.
#pragma once

#include <cstdint>
#include <vector>

#include "bench/shop_simulator.h"

namespace jigtime::bench {

/// Cramér-Rao bound for the delay between two microphones, as a standard deviation in seconds.
///
/// Two stationary Gaussian signals of common power spectrum S and noises N each, seen for T seconds, fall into Fourier
/// coefficients that are independent for the T df positive frequencies. The pair at f has coherence
/// g2 = S^2 / (S + N)^2 and phase 2 pi f D. The information of one complex Gaussian pair about its phase is
/// 2 g2 / (1 - g2) (from the covariance's inverse: trace of (C^-1 dC/dphi)^2 = 2 g2 / (1 - g2)). So the information
/// about D is sum over f of (2 pi f)^2 2 g2 / (1 - g2), that is
///   1 / variance <= 2 T integral (2 pi f)^2 g2 / (1 - g2) df,  f > 0:
/// Knapp and Carter 1976, Carter 1987. For a flat ratio s = S / N between f1 and f2, g2 / (1 - g2) = s^2 / (1 + 2 s),
/// and the integral is (2 pi)^2 (f2^3 - f1^3) / 3.
double delay_bound_s(double seconds, double signal_to_noise, double from_hz, double to_hz);

/// Two cameras with clocks that run true, in a room without echoes, that hear bursts of white noise.
SessionPlan white_noise_session(double snr_db, std::uint64_t number);

/// Seconds of noise that both clips of a white_noise_session hear.
double white_noise_seconds(const SessionPlan& plan);

/// Upper edge of what the simulator's sampling lets through.
inline constexpr double passed_hz = 7440;

}  // namespace jigtime::bench
