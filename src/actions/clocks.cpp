#include "actions/clocks.h"

#include <cstdlib>

namespace jigtime::actions {
namespace {

/// Resolution apart, how well each kind of stamp marks the first picture: a device may stamp the key press or its first
/// flush some seconds later; a file's time is that of its last write, and copying tools may round it. Experience, no
/// source.
Length doubt_of(ClockSource source) {
  switch (source) {
    case ClockSource::timecode: return std::chrono::milliseconds{40};
    case ClockSource::container: return std::chrono::milliseconds{800};
    case ClockSource::name: return std::chrono::milliseconds{800};
    case ClockSource::file_time: return std::chrono::seconds{4};
  }
  return std::chrono::seconds{4};
}

WallTime nearest_day(Length time_of_day, WallTime around, const Zone& zone) {
  const auto day = std::chrono::sys_days{zone.date_at(around)}.time_since_epoch();
  WallTime best = zone.to_wall(Length{day} + time_of_day);
  for (const int step : {-1, 1}) {
    const WallTime other = zone.to_wall(Length{day + std::chrono::days{step}} + time_of_day);
    if (std::chrono::abs(other - around) < std::chrono::abs(best - around)) best = other;
  }
  return best;
}

}  // namespace

std::optional<ClockClaim> claim(const ClockReading& reading, Length length, const Zone& zone,
                                std::optional<WallTime> around) {
  WallTime told;
  switch (reading.kind) {
    case ClockKind::utc: told = WallTime{reading.since_epoch}; break;
    case ClockKind::local: told = zone.to_wall(reading.since_epoch); break;
    case ClockKind::time_of_day:
      if (!around) return std::nullopt;
      told = nearest_day(reading.since_epoch, *around, zone);
      break;
  }
  if (reading.edge == ClockEdge::end) told -= length;
  return ClockClaim{told, doubt_of(reading.source) + reading.resolution / 2};
}

std::optional<ClockClaim> best_claim(std::span<const ClockReading> readings, Length length, const Zone& zone) {
  for (const ClockReading& reading : readings) {
    if (const auto found = claim(reading, length, zone, std::nullopt)) return found;
  }
  return std::nullopt;
}

}  // namespace jigtime::actions
