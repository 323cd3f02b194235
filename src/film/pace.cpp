#include "film/pace.h"

#include <algorithm>
#include <utility>

namespace jigtime::film {

Pace::Pace(std::vector<Stretch> stretches, PictureRate rate) : stretches_{std::move(stretches)}, rate_{rate} {
  first_.push_back(0);
  for (const Stretch& stretch : stretches_) {
    first_.push_back(first_.back() + std::max<std::int64_t>(pictures_in(stretch, stretch.range.length()), 1));
  }
}

/// Rounded up: the last picture may show the end.
std::int64_t Pace::pictures_in(const Stretch& stretch, Length length) const {
  const std::int64_t per = std::int64_t{rate_.den} * stretch.speed_milli;
  const std::int64_t down = scaled(length.count(), rate_.num, 1'000'000) / per;
  const auto at_of = [&](std::int64_t n) { return scaled(n * per, 1'000'000, rate_.num); };
  std::int64_t n = std::max<std::int64_t>(down - 1, 0);
  while (at_of(n) < length.count()) ++n;
  return n;
}

std::size_t Pace::index_of(std::int64_t picture) const {
  const auto after = std::upper_bound(first_.begin(), first_.end() - 1, picture);
  return static_cast<std::size_t>(std::max<std::ptrdiff_t>(after - first_.begin() - 1, 0));
}

SessionTime Pace::at(std::int64_t picture) const {
  const std::size_t i = index_of(picture);
  const std::int64_t in = picture - first_[i];
  return stretches_[i].range.begin() + Length{scaled(in * rate_.den * stretches_[i].speed_milli, 1'000'000, rate_.num)};
}

std::int64_t Pace::picture_at(SessionTime t) const {
  for (std::size_t i = 0; i < stretches_.size(); ++i) {
    const Stretch& stretch = stretches_[i];
    if (t < stretch.range.begin()) return first_[i];
    if (t < stretch.range.end()) return first_[i] + pictures_in(stretch, t - stretch.range.begin());
  }
  return count();
}

std::vector<Pace::Stretch> paced(SessionRange range, int speed_milli, const std::vector<SessionTime>& moments,
                                 int slow_milli, Length around) {
  std::vector<SessionRange> slow;
  for (const SessionTime moment : moments) {
    const auto whole = SessionRange::make(moment - around, moment + around);
    const auto part = whole ? whole->intersection(range) : std::nullopt;
    if (!part) continue;
    if (!slow.empty() && part->begin() <= slow.back().end()) {
      slow.back() = *SessionRange::make(slow.back().begin(), std::max(slow.back().end(), part->end()));
    } else {
      slow.push_back(*part);
    }
  }
  std::vector<Pace::Stretch> stretches;
  SessionTime at = range.begin();
  for (const SessionRange& one : slow) {
    if (const auto before = SessionRange::make(at, one.begin())) stretches.push_back({*before, speed_milli});
    stretches.push_back({one, slow_milli});
    at = one.end();
  }
  if (const auto rest = SessionRange::make(at, range.end())) stretches.push_back({*rest, speed_milli});
  return stretches;
}

}  // namespace jigtime::film
