#include "actions/sessions.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

namespace jigtime::actions {
namespace {

using std::chrono::hours;

constexpr Length session_break = hours{6};
/// Farthest that a clock set to another zone can be off: UTC-12 to UTC+14 seen from a middle zone.
constexpr Length farthest_zone = hours{15};

/// Consecutive recordings without a session break between them.
struct Stretch {
  std::vector<std::size_t> members;
  WallTime begin;
  WallTime end;
  std::set<int> cameras;
  Length footage{0};
};

std::vector<Stretch> stretches_of(std::span<const Timed> recordings, std::vector<std::size_t> order) {
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return *recordings[a].begin < *recordings[b].begin; });
  std::vector<Stretch> stretches;
  for (const std::size_t index : order) {
    const Timed& timed = recordings[index];
    if (stretches.empty() || *timed.begin - stretches.back().end > session_break) {
      stretches.push_back({{}, *timed.begin, *timed.begin, {}, Length{0}});
    }
    Stretch& last = stretches.back();
    last.members.push_back(index);
    last.end = std::max(last.end, *timed.begin + timed.length);
    last.cameras.insert(timed.camera);
    last.footage += timed.length;
  }
  return stretches;
}

bool looks_reset(WallTime begin, const Zone& zone) {
  const auto date = zone.date_at(begin);
  return date.year() < std::chrono::year{2010} ||
         (date.month() == std::chrono::January && date.day() <= std::chrono::day{2});
}

/// The session that a stretch of one camera really belongs to, if its own clock cannot be believed.
std::optional<std::size_t> true_home(const std::vector<Stretch>& stretches, std::size_t index, const Zone& zone) {
  const Stretch& odd = stretches[index];
  if (odd.cameras.size() != 1) return std::nullopt;
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const Stretch& other = stretches[i];
    if (i == index || other.cameras == odd.cameras) continue;
    // A camera that is there already has no room for a second, wrongly set stretch of its own.
    const bool absent = !other.cameras.contains(*odd.cameras.begin());
    const Length apart = std::max(other.begin - odd.end, odd.begin - other.end);
    const bool wrong_zone =
        absent && apart <= farthest_zone &&
        (other.cameras.size() > 1 || other.footage > odd.footage || (other.footage == odd.footage && i < index));
    const bool reset = looks_reset(odd.begin, zone) && other.begin - odd.end > hours{24 * 30};
    if (!wrong_zone && !reset) continue;
    if (!best || other.cameras.size() > stretches[*best].cameras.size()) best = i;
  }
  return best;
}

/// The session of the nearest recording of the same camera, before it first, among those whose clock is believed.
std::optional<std::size_t> neighbours_home(std::span<const Timed> recordings,
                                           const std::map<std::size_t, std::size_t>& home,
                                           const std::set<std::size_t>& doubted, std::size_t index) {
  for (std::size_t i = index; i-- > 0;) {
    if (recordings[i].camera == recordings[index].camera && home.contains(i) && !doubted.contains(i)) return home.at(i);
  }
  for (std::size_t i = index + 1; i < recordings.size(); ++i) {
    if (recordings[i].camera == recordings[index].camera && home.contains(i) && !doubted.contains(i)) return home.at(i);
  }
  return std::nullopt;
}

}  // namespace

std::vector<std::optional<Dated>> date_recordings(std::span<const Timed> recordings, const Zone& zone) {
  std::vector<std::size_t> timed;
  for (std::size_t i = 0; i < recordings.size(); ++i) {
    if (recordings[i].begin) timed.push_back(i);
  }
  const std::vector<Stretch> stretches = stretches_of(recordings, timed);

  std::map<std::size_t, std::size_t> home;  // recording -> stretch
  std::set<std::size_t> doubted;
  for (std::size_t s = 0; s < stretches.size(); ++s) {
    const auto elsewhere = true_home(stretches, s, zone);
    for (const std::size_t member : stretches[s].members) {
      home[member] = elsewhere.value_or(s);
      if (elsewhere) doubted.insert(member);
    }
  }
  for (std::size_t i = 0; i < recordings.size(); ++i) {
    if (home.contains(i) && !doubted.contains(i)) continue;
    const auto near = neighbours_home(recordings, home, doubted, i);
    if (near) {
      home[i] = *near;
    } else if (!home.contains(i) && !stretches.empty()) {
      const auto largest = std::max_element(stretches.begin(), stretches.end(),
                                            [](const Stretch& a, const Stretch& b) { return a.footage < b.footage; });
      home[i] = static_cast<std::size_t>(largest - stretches.begin());
    }
    doubted.insert(i);
  }

  std::vector<std::optional<Dated>> dates(recordings.size());
  for (std::size_t i = 0; i < recordings.size(); ++i) {
    if (home.contains(i)) dates[i] = Dated{zone.date_at(stretches[home.at(i)].begin), doubted.contains(i)};
  }
  return dates;
}

}  // namespace jigtime::actions
