// What a pair's proven stretches are worth, and which of them can be true together.
// Must never know: samples, a third clip.
#pragma once

#include <vector>

#include "sync/features.h"
#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

inline constexpr Demand sure_beside{5, 1.2, 3};  ///< of a piece next to what is proven
inline constexpr double least_jump = 0.028;      ///< seconds; what differs by less is another place in the shop
inline constexpr double near_run = 0.03;         ///< seconds around a run in which its line lies
inline constexpr double straight_seconds = 600;  ///< in which no camera's rate changes enough to be seen

/// Precondition: not empty.
const Segment& strongest(const std::vector<Segment>& segments);

/// Both cannot be: they claim the same stretch of a or of b for different lags, or turn the order around.
bool contradict(const Segment& s, const Segment& t);
bool same_place(const Segment& s, const Segment& t);

/// The stretch over which windows agree with the line as often as they do on the whole: one that happens to fit far
/// away does not lengthen it.
Stretch without_strays(const LagMap& map, const Stretch& stretch, const Line& line);

/// A long stretch is observed part by part: a camera that warms bends the line by more than the sharp sum allows.
Segment observe_all(const LagMap& map, const Stretch& stretch, const Backings& backings);

/// Whether the windows' lags lie closer together than luck has it. Music with a beat fits itself at many places, but
/// within a beat it does not say where.
bool on_one_line(const Segment& segment);

/// Sets how much of what happens along the segment's line it explains; windows are `seconds` long. A song on the radio
/// is the same on another day, but the work is not.
void set_shares(const Frames& a, const Frames& b, const LagMap& map, double seconds, Segment& segment);
/// Whether much of what is as loud in both clips as where they match does not fit: a song that was played on two days
/// fits for a while. The fewer windows there are, the more of them must fit. Precondition: not empty.
bool goes_on_unmatched(const std::vector<Segment>& segments);
/// Whether enough of what both heard fits. Where it is hard to hear, little bears the line out, but all along; where
/// noise hides all of it, the proof must do.
bool explains_enough(const std::vector<Segment>& segments);

/// Pieces that follow each other on one line become one. In order of time.
void join_pieces(std::vector<Segment>& segments);

}  // namespace jigtime::sync
