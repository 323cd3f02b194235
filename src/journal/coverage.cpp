#include "journal/coverage.h"

#include <algorithm>

namespace jigtime::journal {

Coverage::Coverage(std::vector<SessionRange> ranges) {
  // Mostly they come in order.
  if (!std::is_sorted(ranges.begin(), ranges.end())) std::sort(ranges.begin(), ranges.end());
  ranges_.reserve(ranges.size());
  for (const SessionRange& range : ranges) {
    if (ranges_.empty() || ranges_.back().end() < range.begin()) {
      ranges_.push_back(range);
    } else if (ranges_.back().end() < range.end()) {
      ranges_.back() = *SessionRange::make(ranges_.back().begin(), range.end());
    }
  }
  Length sum{0};
  before_.reserve(ranges_.size());
  for (const SessionRange& range : ranges_) {
    before_.push_back(sum);
    sum += range.length();
  }
}

Length Coverage::until(SessionTime end) const {
  const auto after = std::upper_bound(ranges_.begin(), ranges_.end(), end,
                                      [](SessionTime t, const SessionRange& range) { return t < range.begin(); });
  if (after == ranges_.begin()) return Length{0};
  const auto last = after - 1;
  return before_[static_cast<std::size_t>(last - ranges_.begin())] + (std::min(end, last->end()) - last->begin());
}

Length Coverage::shared_with(const Coverage& other) const {
  Length sum{0};
  CoverageCursor here{*this};
  for (const SessionRange& range : other.ranges_) sum += here.within(range.begin(), range.end());
  return sum;
}

Coverage Coverage::joined_with(const Coverage& other) const {
  std::vector<SessionRange> all = ranges_;
  all.insert(all.end(), other.ranges_.begin(), other.ranges_.end());
  return Coverage{std::move(all)};
}

}  // namespace jigtime::journal
