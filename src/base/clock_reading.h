// What a file says about when it was recorded. Every reading is kept, none is believed by itself.
#pragma once

#include <string>
#include <string_view>

#include "base/time.h"

namespace jigtime {

/// Where a reading came from, most trusted first (manual and sound stand above all of them).
enum class ClockSource { timecode, container, name, file_time };

enum class ClockKind {
  utc,          ///< said to be UTC (often local time all the same)
  local,        ///< local time, zone unknown
  time_of_day,  ///< local time of day without a date
};

enum class ClockEdge { begin, end };

struct ClockReading {
  ClockSource source = ClockSource::file_time;
  ClockKind kind = ClockKind::utc;
  ClockEdge edge = ClockEdge::begin;  ///< which end of the recording it is said to stamp
  Length since_epoch{0};              ///< since 1970 (utc, local) or since midnight (time_of_day)
  Length resolution{0};               ///< step of the clock as written
  std::string text;                   ///< as it stood in the file

  friend bool operator==(const ClockReading&, const ClockReading&) = default;
};

std::string_view to_text(ClockSource source);

}  // namespace jigtime
