// Whether a short stretch of sound is a train of even blows, and how fast they fall.
#pragma once

#include <optional>
#include <span>

namespace jigtime::detect {

/// Slowest and fastest blows taken for riveting. US Navy training manual 14018 (Aviation Structural Mechanic): slow
/// guns about 2,500 blows a minute, fast ones 2,500 to 5,000 (83 a second). Builders' guns go down to 900 a minute
/// (15 a second): common practice, from a trade magazine.
inline constexpr double slowest_blows_hz = 15;
inline constexpr double fastest_blows_hz = 85;

struct BlowTrain {
  double rate_hz = 0;
  double regularity = 0;  ///< correlation of the envelope with itself one blow later, 0 to 1
  double contrast = 0;    ///< that less the lowest correlation on the way there
};

/// `loudness` holds an amplitude for each of consecutive milliseconds, 200 to 512 of them. Nothing when it is shorter,
/// when it does not repeat, or repeats at a rate outside the limits: a voice at 120 Hz also repeats every other pulse,
/// so the shortest period that explains it counts.
std::optional<BlowTrain> blow_train(std::span<const float> loudness);

}  // namespace jigtime::detect
