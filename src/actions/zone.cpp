#include "actions/zone.h"

#include <date/tz.h>

#include <algorithm>
#include <exception>

namespace jigtime::actions {
namespace {

const date::time_zone& as_zone(const void* zone) { return *static_cast<const date::time_zone*>(zone); }

}  // namespace

Result<Zone> Zone::find(std::string_view name) {
  try {
    return Zone{date::locate_zone(std::string{name})};
  } catch (const std::exception&) {
    return Error{Code::invalid, "There is no time zone \"" + std::string{name} +
                                    "\". Use a name of the form AREA/CITY, for example Europe/Lisbon, or UTC."};
  }
}

std::string Zone::here() {
  try {
    return date::current_zone()->name();
  } catch (const std::exception&) {
    return "UTC";
  }
}

bool Zone::skips(Length local_since_epoch) const {
  const date::local_time<Length> local{local_since_epoch};
  return as_zone(zone_).get_info(local).result == date::local_info::nonexistent;
}

WallTime Zone::to_wall(Length local_since_epoch) const {
  const date::local_time<Length> local{local_since_epoch};
  return WallTime{as_zone(zone_).to_sys(local, date::choose::earliest).time_since_epoch()};
}

Length Zone::offset_at(WallTime time) const {
  return as_zone(zone_).get_info(date::sys_time<Length>{time.time_since_epoch()}).offset;
}

WallTime Zone::next_change(WallTime time) const {
  // The library's last moment lies beyond what nanoseconds hold.
  const auto end = as_zone(zone_).get_info(date::sys_time<Length>{time.time_since_epoch()}).end.time_since_epoch();
  const auto last = std::chrono::floor<std::chrono::seconds>(WallTime::max().time_since_epoch());
  return WallTime{Length{std::min(end, last)}};
}

std::chrono::year_month_day Zone::date_at(WallTime time) const {
  return std::chrono::year_month_day{std::chrono::floor<std::chrono::days>(time + offset_at(time))};
}

std::chrono::year_month_day today(const std::string& zone) {
  const WallTime now{std::chrono::system_clock::now()};
  auto place = Zone::find(zone);
  if (!place) place = Zone::find(Zone::here());
  return place ? place->date_at(now) : std::chrono::year_month_day{std::chrono::floor<std::chrono::days>(now)};
}

}  // namespace jigtime::actions
