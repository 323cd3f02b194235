// Civil time of one place.
// The only home of the time-zone library (libstdc++ 12 has no zone database).
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "base/result.h"
#include "base/time.h"

namespace jigtime::actions {

class Zone {
 public:
  /// By IANA name, e.g. "Europe/Lisbon". Code::invalid when the machine's zone database has no such name.
  static Result<Zone> find(std::string_view name);
  /// The machine's own zone; "UTC" when it cannot be told.
  static std::string here();

  /// Local civil time (since 1970, as if UTC) to UTC. Where clocks were set back the earlier of two; where they were
  /// set forward the moment of the change.
  WallTime to_wall(Length local_since_epoch) const;
  /// Whether the clocks there never show that civil time, since they are set forward over it.
  bool skips(Length local_since_epoch) const;
  /// Local minus UTC at that moment.
  Length offset_at(WallTime time) const;
  /// The first moment after that one at which the offset may differ; far away where clocks are never changed.
  WallTime next_change(WallTime time) const;
  std::chrono::year_month_day date_at(WallTime time) const;

 private:
  explicit Zone(const void* zone) : zone_{zone} {}
  const void* zone_;  ///< date::time_zone, owned by the library's database for the life of the program
};

/// The day that it is now at the build's place; the machine's zone serves where the build's is not known.
std::chrono::year_month_day today(const std::string& zone);

}  // namespace jigtime::actions
