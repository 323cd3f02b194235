// Time: integer nanoseconds on three lines that cannot be mixed.
// Must never know: libav ticks, floating-point seconds, time zones.
// Begin reading at: Length, ClipTime, SessionTime, WallTime; then Range.
#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>

namespace jigtime {

/// A length of time. Never add up rounded lengths: compute position n from n.
using Length = std::chrono::nanoseconds;

template <class Tag>
struct TimeLine {
  using duration = Length;
  using rep = Length::rep;
  using period = Length::period;
  using time_point = std::chrono::time_point<TimeLine>;
  static constexpr bool is_steady = true;
};

/// Inside one clip; zero is the presentation time of the clip's first picture (first sound sample without pictures).
using ClipTime = std::chrono::time_point<TimeLine<struct ClipTag>, Length>;
/// On the clock that all clips of a session share; zero is the session's first instant.
using SessionTime = std::chrono::time_point<TimeLine<struct SessionTag>, Length>;
/// Civil time, UTC, since 1970.
using WallTime = std::chrono::sys_time<Length>;

/// Times read from files are refused beyond this; inside, sums cannot overflow.
inline constexpr Length farthest = std::chrono::hours{24 * 366 * 100};

constexpr bool within_reach(Length length) { return length >= -farthest && length <= farthest; }

/// Seconds for display, JSON and signal arithmetic only: never stored, never compared for equality.
constexpr double to_seconds(Length length) { return static_cast<double>(length.count()) / 1e9; }
template <class Line>
constexpr double to_seconds(std::chrono::time_point<Line, Length> point) {
  return to_seconds(point.time_since_epoch());
}
/// Nearest nanosecond. Precondition: finite and |seconds| within `farthest`; clamped otherwise.
Length from_seconds(double seconds);

/// value * numerator / denominator with a 128-bit intermediate, rounded half away from zero.
/// Precondition: denominator > 0; a result beyond int64 is clamped.
std::int64_t scaled(std::int64_t value, std::int64_t numerator, std::int64_t denominator);

/// Half-open [begin, end) with begin < end. An empty or reversed range cannot be made.
template <class Point>
class Range {
 public:
  /// Nothing when end <= begin.
  static constexpr std::optional<Range> make(Point begin, Point end) {
    if (!(begin < end)) return std::nullopt;
    return Range{begin, end};
  }
  constexpr Point begin() const { return begin_; }
  constexpr Point end() const { return end_; }
  constexpr Length length() const { return end_ - begin_; }
  constexpr bool contains(Point point) const { return begin_ <= point && point < end_; }
  constexpr bool overlaps(const Range& other) const { return begin_ < other.end_ && other.begin_ < end_; }
  constexpr std::optional<Range> intersection(const Range& other) const {
    return make(begin_ < other.begin_ ? other.begin_ : begin_, end_ < other.end_ ? end_ : other.end_);
  }
  friend constexpr auto operator<=>(const Range&, const Range&) = default;

 private:
  constexpr Range(Point begin, Point end) : begin_{begin}, end_{end} {}
  Point begin_;
  Point end_;
};

using ClipRange = Range<ClipTime>;
using SessionRange = Range<SessionTime>;
using WallRange = Range<WallTime>;

}  // namespace jigtime
