// Dates and times as devices write them, checked against the calendar.
#pragma once

#include <optional>
#include <string_view>

#include "base/time.h"

namespace jigtime::media {

struct CivilTime {
  int year = 0;
  int month = 0;
  int day = 0;
  int hour = 0;
  int minute = 0;
  int second = 0;
};

/// Length since 1970 of a date and time that exist; nothing for 30 February, hour 24, second 60, and for years up to
/// 1970 or from 2100: devices write 1904 and 1970 when they do not know.
std::optional<Length> since_1970(const CivilTime& time);

struct Stamp {
  Length since_epoch{0};             ///< UTC when the zone is known, else as it stands
  bool zone_known = false;           ///< it ends in Z or in an offset
  Length resolution{1'000'000'000};  ///< of the last digit written; 1 s when the fraction is zero
};

/// "2026-03-14T09:30:12", a blank instead of the T, a fraction, and Z, +01:00 or +0100 at the end. A date alone is no
/// stamp. The whole text must fit.
std::optional<Stamp> parse_stamp(std::string_view text);

}  // namespace jigtime::media
