// Which day a recording belongs to, when clocks may lie.
// Pure: no files, no journal.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <vector>

#include "actions/zone.h"

namespace jigtime::actions {

struct Timed {
  int camera = 0;
  std::optional<WallTime> begin;  ///< by the recording's most trusted clock
  Length length{0};
};

struct Dated {
  std::chrono::year_month_day date;
  bool clock_doubted = false;  ///< its own clock named another day and was not believed
};

/// One answer per recording, in their order (recordings of one camera in the order they were made). Recordings less
/// than six hours apart are one session, whose date is that of its first instant. A stretch of one camera whose clock
/// looks reset (first days of a year, or before 2010) while other cameras tell a later day goes to the session of the
/// recordings before or after it. A stretch of one camera up to 15 hours off another camera's session, in which that
/// camera has nothing, is taken for a wrong zone and goes there. Nothing where no clock of the whole batch tells a day.
std::vector<std::optional<Dated>> date_recordings(std::span<const Timed> recordings, const Zone& zone);

}  // namespace jigtime::actions
