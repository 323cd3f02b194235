// Sets of session time, for adding up hours.
// Must never know: people, tasks, cameras.
// Begin reading at: Coverage.
#pragma once

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
  Length total() const { return before_.empty() ? Length{0} : before_.back() + ranges_.back().length(); }
  /// How much of [begin, end) lies in the set. Precondition: begin <= end.
  Length within(SessionTime begin, SessionTime end) const { return until(end) - until(begin); }
  /// How much of the other set lies in this one. O(other log this).
  Length shared_with(const Coverage& other) const;
  Coverage joined_with(const Coverage& other) const;

 private:
  Length until(SessionTime end) const;

  std::vector<SessionRange> ranges_;
  std::vector<Length> before_;  ///< before_[i] is the length of all ranges in front of ranges_[i]
};

}  // namespace jigtime::journal
