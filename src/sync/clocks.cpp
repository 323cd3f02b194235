#include "sync/clocks.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

/// A clock that nothing vouches for may be an hour off, as the reference's may the other way, or set to another zone:
/// two sigma are six hours.
constexpr double untied_sigma = 10800;
constexpr double another_day = 86400;
/// Errors of one clock that differ by less belong to one setting of it.
constexpr double one_setting = 30;
/// Two cameras whose clocks differ by less bear each other out.
constexpr double alike = 120;
/// Seconds, beyond three standard errors, for which two clips of a camera may seem to run at once: a recorder needs a
/// moment to close a file.
constexpr double closing_a_file = 2;

// Seconds, standard error of a stamp.
constexpr double best_stamp = 0.1, worst_stamp = 1.5;
// Zones lie whole half hours apart; there are some that lie a quarter beside, which are not looked for.
constexpr double zone_step = 1800;
/// Seconds. Two clocks set by hand or by another device, two seconds off each at the most, differ by more one time in
/// fifty.
constexpr double same_zone = 3.5;

/// Of the seconds by which a place would change should the camera's stamps mark ends. One camera in twelve is taken to
/// do so and not to have shown it otherwise: the root of that. From memory of such cameras, no source.
constexpr double doubt_of_ends = 0.28;

constexpr auto factory_days = std::chrono::days{2};

double wall_seconds(const ClockHint& hint) { return to_seconds(hint.clip_zero.time_since_epoch()); }

/// Of several readings of one kind, which `hint`, one of the clip's, is: a file may hold the time in the shop's zone
/// and in another.
std::ptrdiff_t place_among(const ClipInput& clip, const ClockHint& hint) {
  return std::count_if(clip.clocks.data(), &hint, [&](const ClockHint& one) { return one.trust == hint.trust; });
}

}  // namespace

bool of_factory(WallTime time) {
  const auto day = std::chrono::floor<std::chrono::days>(time.time_since_epoch());
  const std::chrono::year_month_day date{std::chrono::sys_days{day}};
  const auto new_year = std::chrono::sys_days{date.year() / std::chrono::January / 1}.time_since_epoch();
  return day - new_year < factory_days;
}

const ClockHint* best_hint(const ClipInput& clip) {
  const auto best = std::min_element(clip.clocks.begin(), clip.clocks.end(),
                                     [](const ClockHint& a, const ClockHint& b) { return a.trust < b.trust; });
  return best == clip.clocks.end() ? nullptr : &*best;
}

std::vector<const ClockHint*> good_stamps(const std::vector<ClipInput>& clips) {
  const ClockBook book{clips, 0};
  std::vector<const ClockHint*> stamps;
  for (int clip = 0; clip < static_cast<int>(clips.size()); ++clip) {
    const ClockHint* best = nullptr;
    for (const ClockHint& hint : clips[static_cast<std::size_t>(clip)].clocks) {
      const double sigma = to_seconds(hint.sigma);
      const bool good = sigma >= best_stamp && sigma <= worst_stamp && book.at_once(clip, hint).empty();
      if (good && (best == nullptr || hint.trust < best->trust)) best = &hint;
    }
    stamps.push_back(best);
  }
  return stamps;
}

bool other_zones(double seconds) { return std::abs(std::remainder(seconds, zone_step)) < same_zone; }

bool same_but_for_zones(double seconds) { return std::abs(seconds) <= most_zones && other_zones(seconds); }

std::optional<ClockBook::Error> ClockBook::clock_error(int camera) const {
  std::map<int, std::vector<double>> errors;  // by trust
  for (std::size_t i = 0; i < clips_.size(); ++i) {
    if (clips_[i].camera != camera || !starts_[i]) continue;
    for (const ClockHint& hint : clips_[i].clocks) {
      if (at_once(static_cast<int>(i), hint).empty()) errors[hint.trust].push_back(wall_seconds(hint) - *starts_[i]);
    }
  }
  if (errors.empty()) return std::nullopt;
  return Error{errors.begin()->first, signal::median(std::move(errors.begin()->second))};
}

std::optional<double> ClockBook::error_of(int camera) const {
  const auto error = clock_error(camera);
  return error ? std::optional{error->seconds} : std::nullopt;
}

std::optional<double> ClockBook::zero() const {
  struct Word {
    int camera = 0;
    int trust = 0;
    double zero = 0;
    int borne_out = 0;
  };
  std::map<int, Word> words;
  for (std::size_t i = 0; i < clips_.size(); ++i) {
    const int camera = clips_[i].camera;
    if (!starts_[i] || words.count(camera) > 0) continue;
    if (const auto error = clock_error(camera)) words[camera] = Word{camera, error->trust, error->seconds, 0};
  }
  for (auto& [camera, word] : words) {
    for (const auto& [other, another] : words) word.borne_out += std::abs(another.zero - word.zero) < alike ? 1 : 0;
  }
  const auto worse = [&](const auto& a, const auto& b) {
    const auto key = [&](const Word& word) {
      return std::tuple{-word.trust, word.borne_out, word.camera == reference_, -word.camera};
    };
    return key(a.second) < key(b.second);
  };
  const auto best = std::max_element(words.begin(), words.end(), worse);
  if (best == words.end()) return std::nullopt;
  return best->second.zero;
}

std::vector<int> ClockBook::at_once(int clip, const ClockHint& hint) const {
  const ClipInput& asked = clips_[static_cast<std::size_t>(clip)];
  const double begin = wall_seconds(hint), end = begin + to_seconds(asked.length);
  const auto place = place_among(asked, hint);
  std::vector<int> found;
  for (int i = 0; i < static_cast<int>(clips_.size()); ++i) {
    const ClipInput& other = clips_[static_cast<std::size_t>(i)];
    if (i == clip || other.camera != asked.camera) continue;
    for (const ClockHint& its : other.clocks) {
      if (its.trust != hint.trust || place_among(other, its) != place) continue;
      const double from = wall_seconds(its), to = from + to_seconds(other.length);
      const double doubt = 3 * std::hypot(to_seconds(hint.sigma), to_seconds(its.sigma));
      if (std::min(end, to) - std::max(begin, from) > doubt + closing_a_file) found.push_back(i);
    }
  }
  return found;
}

bool ClockBook::in_doubt(int clip, const ClockHint& hint) const {
  const std::vector<int> others = at_once(clip, hint);
  return std::any_of(others.begin(), others.end(), [&](int i) { return !starts_[static_cast<std::size_t>(i)]; });
}

bool ClockBook::taken(int clip, const ClockPlace& place) const {
  const ClipInput& asked = clips_[static_cast<std::size_t>(clip)];
  for (std::size_t i = 0; i < clips_.size(); ++i) {
    if (static_cast<int>(i) == clip || clips_[i].camera != asked.camera || !starts_[i]) continue;
    const double begin = std::max(place.start, *starts_[i]);
    const double end = std::min(place.start + to_seconds(asked.length), *starts_[i] + to_seconds(clips_[i].length));
    if (end - begin > 3 * place.sigma + closing_a_file) return true;
  }
  return false;
}

std::optional<int> ClockBook::at_once_with(int clip) const {
  const ClockHint* const hint = best_hint(clips_[static_cast<std::size_t>(clip)]);
  if (hint == nullptr) return std::nullopt;
  const std::vector<int> others = at_once(clip, *hint);
  return others.empty() ? std::nullopt : std::optional{others.front()};
}

ClockBook::Neighbours ClockBook::neighbours_of(int clip) const {
  const ClipInput& asked = clips_[static_cast<std::size_t>(clip)];
  Neighbours neighbours;
  std::optional<ClockPlace>& best = neighbours.place;
  for (const ClockHint& hint : asked.clocks) {
    if (in_doubt(clip, hint)) continue;
    const std::vector<int> elsewhere = at_once(clip, hint);  // what these tell is another setting's
    double nearest = INFINITY;
    struct Known {
      double wall = 0;
      double error = 0;
      double if_end = 0;
    };
    std::vector<Known> known;
    Known next_to_it;
    for (std::size_t i = 0; i < clips_.size(); ++i) {
      if (clips_[i].camera != asked.camera || !starts_[i]) continue;
      if (std::find(elsewhere.begin(), elsewhere.end(), static_cast<int>(i)) != elsewhere.end()) continue;
      for (const ClockHint& other : clips_[i].clocks) {
        if (other.trust != hint.trust) continue;
        known.push_back({wall_seconds(other), wall_seconds(other) - *starts_[i], to_seconds(other.if_end)});
      }
    }
    if (known.empty()) continue;
    neighbours.any = true;
    for (const Known& one : known) {
      if (std::abs(one.wall - wall_seconds(hint)) >= nearest) continue;
      nearest = std::abs(one.wall - wall_seconds(hint));
      next_to_it = one;
    }
    std::vector<double> alike;
    for (const Known& one : known) {
      if (std::abs(one.error - next_to_it.error) < one_setting) alike.push_back(one.error);
    }
    const signal::Spread spread = signal::robust_spread(alike);
    const double if_ends = hint.if_end > Length{0} ? to_seconds(hint.if_end) - next_to_it.if_end : 0;
    const double sigma = std::hypot(to_seconds(hint.sigma), spread.sigma, doubt_of_ends * if_ends);
    const ClockPlace place{wall_seconds(hint) - spread.middle, sigma};
    if (!same_day(place.start) || taken(clip, place)) continue;
    if (!best || sigma < best->sigma) best = place;
  }
  return neighbours;
}

bool ClockBook::same_day(double start) const {
  return std::any_of(starts_.begin(), starts_.end(), [start](const std::optional<double>& known) {
    return known && std::abs(*known - start) < another_day;
  });
}

std::optional<ClockPlace> ClockBook::place(int clip) const {
  const ClipInput& asked = clips_[static_cast<std::size_t>(clip)];
  const Neighbours neighbours = neighbours_of(clip);
  if (neighbours.any) return neighbours.place;
  const ClockHint* const hint = best_hint(asked);
  const auto wall_zero = zero();
  if (hint == nullptr || !wall_zero) return std::nullopt;
  const ClockPlace place{wall_seconds(*hint) - *wall_zero, std::hypot(to_seconds(hint->sigma), untied_sigma)};
  if (!same_day(place.start) || !at_once(clip, *hint).empty() || taken(clip, place)) return std::nullopt;
  return place;
}

}  // namespace jigtime::sync
