// What a clock reading says about the wall time of a clip's first instant.
#pragma once

#include <optional>
#include <span>

#include "actions/zone.h"
#include "base/clock_reading.h"

namespace jigtime::actions {

struct ClockClaim {
  WallTime begin;   ///< of the file's first picture, as the reading claims
  Length sigma{0};  ///< honest doubt of such a reading, wrong settings aside
};

/// `length` is that of the file the reading came from. A time of day takes the date of `around`, or of the day before
/// or after if that lies nearer; nothing without it.
std::optional<ClockClaim> claim(const ClockReading& reading, Length length, const Zone& zone,
                                std::optional<WallTime> around);

/// The most trusted dated claim among a file's readings (which are in order of trust); nothing when there is none.
std::optional<ClockClaim> best_claim(std::span<const ClockReading> readings, Length length, const Zone& zone);

}  // namespace jigtime::actions
