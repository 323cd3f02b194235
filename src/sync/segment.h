// A proven stretch of a pair.
#pragma once

#include <vector>

#include "sync/line.h"

namespace jigtime::sync {

/// Where a window's highest lag lies, of all those around a line.
enum class Rank {
  none,     ///< nothing stands out, or the line lies too far off to tell
  first,    ///< on the line, give or take the ways of the sound
  surely,   ///< the same, and it stands far out
  outdone,  ///< elsewhere, and it stands out clearly more than any on the line
  unclear,  ///< elsewhere, but not by much
};

/// A window anywhere along a line: how much each clip and both heard in it (Frames::activity), and whether it bears the
/// line out.
struct Glimpse {
  double at = 0;
  double happens = 0;  ///< to both, beyond their noise
  bool agrees = false;
  bool closely = false;  ///< agrees, and as closely as the segment's other windows do
  double in_a = 0;       ///< to clip a alone, noise and all
  double in_b = 0;
  Rank rank = Rank::none;
};

/// A stretch of clip a that clip b hears too, with nothing lost in between.
struct Segment {
  double from = 0;  ///< clip seconds of a over which windows agreed
  double to = 0;
  Fit fit;
  std::vector<Observation> observations;
  int windows = 0;
  int agreed = 0;     ///< windows of which a clear peak lies on the line
  double proof = 0;   ///< of all windows together: how far their sum stands out of what luck gives
  double coarse = 0;  ///< of the coarse search
  double doubt = 0;   ///< seconds by which all of it may be off: of a line beside it nearly as much speaks
  double loose = 0;   ///< seconds by which the jump to it from the segment before may lie earlier or later
  // Of all that both clips heard along its line, beyond what their noise does by itself:
  double within = 0;                ///< what lies between `from` and `to`
  double explained = 0;             ///< what bears the line out
  double audible = 1e9;             ///< how much that was, in units of Frames::activity
  bool leans = false;               ///< what is loud and shows nothing clear leans to the line (loud_leans)
  std::vector<Glimpse> glimpses{};  ///< all of it, in order; not kept when the pair is remembered

  bool covers(double at) const { return at >= from && at <= to; }
};

/// Seconds of a in all of them.
inline double length_of(const std::vector<Segment>& segments) {
  double sum = 0;
  for (const Segment& segment : segments) sum += segment.to - segment.from;
  return sum;
}

/// Seconds by which the line of `after`, the next one, lies beside that of `before`, in the middle between the two.
/// More than nothing where a lost time in between, less where b did.
inline double step_between(const Segment& before, const Segment& after) {
  const double middle = (before.to + after.from) / 2;
  return after.fit.line(middle) - before.fit.line(middle);
}

}  // namespace jigtime::sync
