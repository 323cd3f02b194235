#include "report/strips.h"

#include <algorithm>
#include <array>

namespace jigtime::report {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

struct Step {
  Length length;
  Length tick;
};

constexpr std::array steps{
    Step{seconds{10}, seconds{2}}, Step{seconds{30}, seconds{5}}, Step{minutes{1}, seconds{10}},
    Step{minutes{2}, seconds{20}}, Step{minutes{5}, minutes{1}},  Step{minutes{10}, minutes{2}},
    Step{minutes{15}, minutes{3}}, Step{minutes{30}, minutes{5}}, Step{hours{1}, minutes{10}},
    Step{hours{2}, minutes{15}},   Step{hours{3}, minutes{30}},   Step{hours{4}, minutes{30}},
    Step{hours{6}, hours{1}},      Step{hours{12}, hours{2}},     Step{hours{24}, hours{3}},
};
/// A pause of this length between two items is not yet a hole in the day.
constexpr Length usual_pause = hours{1};

std::int64_t floor_division(std::int64_t value, std::int64_t by) {
  return value >= 0 ? value / by : -((-value + by - 1) / by);
}

/// Time covered when pauses up to usual_pause are counted in.
Length busy_time(const std::vector<SessionRange>& shown) {
  Length busy{0};
  SessionTime end = shown.front().begin();
  for (const SessionRange& range : shown) {
    if (range.end() <= end) continue;
    const Length pause = std::max(Length{0}, range.begin() - end);
    busy += range.end() - std::max(range.begin(), end) + (pause <= usual_pause ? pause : Length{0});
    end = range.end();
  }
  return busy;
}

Step step_for(Length busy, int wanted) {
  for (const Step& step : steps) {
    // One more, because the first strip seldom begins where the footage does.
    if (busy <= step.length * (wanted + 1)) return step;
  }
  const Length day = hours{24};
  const Length length = day * (busy / (day * wanted) + 1);
  return {length, length / 8};
}

}  // namespace

std::vector<Strip> strips_for(const std::vector<SessionRange>& shown, int wanted) {
  std::vector<Strip> strips;
  if (shown.empty()) return strips;
  const Step step = step_for(busy_time(shown), wanted);
  const std::int64_t length = step.length.count();
  std::int64_t next = 0;
  for (const SessionRange& range : shown) {
    const std::int64_t first = floor_division(range.begin().time_since_epoch().count(), length);
    const std::int64_t last = floor_division(range.end().time_since_epoch().count() - 1, length);
    for (std::int64_t at = strips.empty() ? first : std::max(first, next); at <= last; ++at) {
      const SessionTime begin{Length{at * length}};
      const Length left_out = strips.empty() ? Length{0} : begin - strips.back().range.end();
      strips.push_back({*SessionRange::make(begin, begin + step.length), step.tick, left_out});
      next = at + 1;
    }
  }
  return strips;
}

std::vector<SessionTime> ticks_of(const Strip& strip) {
  std::vector<SessionTime> ticks;
  for (SessionTime at = strip.range.begin(); at < strip.range.end(); at += strip.tick) ticks.push_back(at);
  return ticks;
}

}  // namespace jigtime::report
