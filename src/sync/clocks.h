// What the cameras' own clocks are worth, learnt from clips that sound has placed; and the places they give to others.
// Must never know: sound.
#pragma once

#include <optional>
#include <vector>

#include "sync/line_up.h"

namespace jigtime::sync {

/// The clip's most trusted reading; null without any.
const ClockHint* best_hint(const ClipInput& clip);

/// By clip the reading that tells when its recording began to about a second; null without one, and where two clips of
/// its camera would then have run at once. A file's time is worse than that; what is better is a timecode, which mostly
/// runs in recordings only.
std::vector<const ClockHint*> good_stamps(const std::vector<ClipInput>& clips);
/// Whether that is the first or second of some January: there cameras begin anew when their clock's cell is empty, and
/// so two of them agree (common experience, no source).
bool of_factory(WallTime time);
inline constexpr double same_season = 60 * 86400.0;  ///< seconds: a clock that begins anew is mostly years off
/// Seconds between the shop's time and that of any zone, a clock at the factory's time among them.
inline constexpr double most_zones = 14 * 3600.0;
/// Whether clocks that differ by that many seconds may show the times of different zones and nothing else.
bool other_zones(double seconds);
/// The same, or none, where neither clock is set to the second, and in any two zones.
bool same_but_for_zones(double seconds);

/// A place on the session clock in seconds, with its standard error.
struct ClockPlace {
  double start = 0;
  double sigma = 0;
};

/// Clips whose start is known on one common clock, by sound or by hand.
class ClockBook {
 public:
  /// `reference` is the camera whose word counts where clocks of one kind differ.
  ClockBook(const std::vector<ClipInput>& clips, int reference)
      : clips_{clips}, reference_{reference}, starts_(clips.size()) {}

  /// Clip `clip` begins at `start` session seconds.
  void learn(int clip, double start) { starts_[static_cast<std::size_t>(clip)] = start; }

  /// Where the clip's clock puts it. Nothing without a clock, or when that is another day than every known clip's: a
  /// clock that fell back to its factory date; nor where its camera would then have filmed another clip at once.
  std::optional<ClockPlace> place(int clip) const;
  /// A clip of the same camera that ran at the same time as this one by the most trusted kind of clock it has, for
  /// longer than the doubt allows: a file's time tells when it was copied, or a clock was set back between them. The
  /// first of several.
  std::optional<int> at_once_with(int clip) const;

  /// Clips of the same camera whose clock of that kind says that they ran at the same time. `hint` is one of the
  /// clip's.
  std::vector<int> at_once(int clip, const ClockHint& hint) const;

  /// Median of clock minus session over a camera's known clips, by its most trusted kind; nothing without any.
  std::optional<double> error_of(int camera) const;
  /// Wall time of session second zero in seconds since 1970, by the most trusted kind of clock that is tied to the
  /// session: of several cameras' the one that most others bear out, then the reference's.
  std::optional<double> zero() const;

 private:
  struct Neighbours {
    bool any = false;  ///< whether any tell of its clock
    std::optional<ClockPlace> place{};
  };
  Neighbours neighbours_of(int clip) const;
  struct Error {
    int trust = 0;  ///< the kind of clock it is of
    double seconds = 0;
  };
  std::optional<Error> clock_error(int camera) const;
  /// Whether nothing tells which of two settings of the clock the clip was filmed under.
  bool in_doubt(int clip, const ClockHint& hint) const;
  /// Whether a clip of the same camera is known to have run then.
  bool taken(int clip, const ClockPlace& place) const;
  bool same_day(double start) const;

  const std::vector<ClipInput>& clips_;
  int reference_;
  std::vector<std::optional<double>> starts_;
};

}  // namespace jigtime::sync
