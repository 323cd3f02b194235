// Sets of session time, for adding up hours.
// Must never know: people, tasks, cameras.
// Begin reading at: Coverage.
#pragma once

#include <algorithm>
#include <vector>

#include "base/time.h"

namespace jigtime::journal {

/// A set of moments on the session clock: ranges in order that neither touch nor overlap.
/// Made once in O(n log n); every question after that is O(log n).
class Coverage {
 public:
  Coverage() = default;
  /// The union of the ranges, in any order, overlapping or not.
  explicit Coverage(std::vector<SessionRange> ranges);

  const std::vector<SessionRange>& ranges() const { return ranges_; }
  bool empty() const { return ranges_.empty(); }
  Length total() const { return before_.empty() ? Length{0} : before_.back() + ranges_.back().length(); }
  /// How much of [begin, end) lies in the set. Precondition: begin <= end.
  Length within(SessionTime begin, SessionTime end) const { return until(end) - until(begin); }
  /// How much of the other set lies in this one. O(other + this).
  Length shared_with(const Coverage& other) const;
  Coverage joined_with(const Coverage& other) const;
  /// Calls `seen(begin, end)` for each stretch of [begin, end) outside the set, in order.
  template <class Seen>
  void each_gap(SessionTime begin, SessionTime end, Seen seen) const;

 private:
  friend class CoverageCursor;
  Length until(SessionTime end) const;

  std::vector<SessionRange> ranges_;
  std::vector<Length> before_;  ///< before_[i] is the length of all ranges in front of ranges_[i]
};

/// Asks a set about stretches that never go back in time: all questions together cost one walk through the set.
/// The set must outlive it.
class CoverageCursor {
 public:
  explicit CoverageCursor(const Coverage& set) : set_{set} {}
  /// As Coverage::within. Precondition: begin <= end, and begin is not before the end asked about last.
  Length within(SessionTime begin, SessionTime end) {
    const Length before = until(begin);
    return until(end) - before;
  }

 private:
  Length until(SessionTime end) {
    while (next_ < set_.ranges_.size() && set_.ranges_[next_].end() <= end) ++next_;
    if (next_ == set_.ranges_.size()) return set_.total();
    const SessionTime begin = set_.ranges_[next_].begin();
    return set_.before_[next_] + (begin < end ? end - begin : Length{0});
  }

  const Coverage& set_;
  std::size_t next_ = 0;
};

template <class Seen>
void Coverage::each_gap(SessionTime begin, SessionTime end, Seen seen) const {
  auto range = std::upper_bound(ranges_.begin(), ranges_.end(), begin,
                                [](SessionTime t, const SessionRange& r) { return t < r.end(); });
  for (; range != ranges_.end() && range->begin() < end; ++range) {
    if (begin < range->begin()) seen(begin, range->begin());
    begin = range->end();
  }
  if (begin < end) seen(begin, end);
}

}  // namespace jigtime::journal
