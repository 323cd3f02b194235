// What a pair's proven stretches are worth.
// Must never know: samples, a third clip.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "sync/candidates.h"
#include "sync/features.h"
#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

inline constexpr Demand sure_beside{5, 1.2, 3};  ///< of a piece next to what is proven
inline constexpr double least_jump = 0.028;      ///< seconds; what differs by less is another place in the shop
inline constexpr double longest_blow = 0.06;     ///< seconds from one of a riveting burst to the next
inline constexpr double longest_loss = 180;      ///< seconds: a camera that drops out is back within minutes
inline constexpr double longest_song = 480;      ///< seconds (common experience, no source)
inline constexpr double more_than_luck = 8;      ///< of the coarse score: what clips of different days reach somewhere
inline constexpr double clearly_heard = 12;      ///< of the coarse score: half more than what luck reaches
inline constexpr double same_sound = 0.004;      ///< seconds around a line
inline constexpr double two_blows = 0.1;         ///< seconds, of a slow gun
inline constexpr double another_bar = 0.5;    ///< seconds from one line to another that is no blow or stroke beside it
inline constexpr double near_run = 0.03;      ///< seconds around a run in which its line lies
inline constexpr double least_loud = 5;       ///< units of Frames::activity: a window in which something surely happens
inline constexpr double hardly_audible = 40;  ///< units of Frames::activity in all windows: little more than noise does
inline constexpr double half_window = 2;      ///< seconds, of the longest windows
inline constexpr double straight_seconds = 600;  ///< in which no camera's rate changes enough to be seen

inline constexpr double nearly_all_agree = 0.9;  ///< of all windows, undisputed: work agrees too, no song alone

/// Precondition: not empty.
const Segment& strongest(const std::vector<Segment>& segments);

/// The stretch over which windows agree with the line as often as they do on the whole: one that happens to fit far
/// away does not lengthen it.
Stretch without_strays(const LagMap& map, const Stretch& stretch, const Line& line);

/// A long stretch is observed part by part: a camera that warms bends the line by more than the sharp sum allows.
Segment observe_all(const LagMap& map, const Stretch& stretch, const Backings& backings);

/// Whether the windows' lags lie closer together than luck has it. Music with a beat fits itself at many places, but
/// within a beat it does not say where.
bool on_one_line(const Segment& segment);

/// Hammering sounds alike one blow earlier or later. How far the farthest line lies for which the windows outside
/// the other segments say nearly as much, halved; 0 when they say clearly less of all.
double doubt_beside(const LagMap& map, const Segment& segment, const std::vector<Segment>& others);
/// Seconds by which the segment lies beside the main one.
double jump_between(const Segment& segment, const Segment& main);
/// The same, if that is no more than a blow of which either is in doubt.
double doubtful_jump(const Segment& segment, const Segment& main);
/// Sets the doubt of each segment and takes out those that lie beside the first one by a doubtful jump. Those that stay
/// may have a rival some blows beside as well (rival_beside), which adds to their doubt.
void doubt_blows(const LagMap& map, std::vector<Segment>& segments);

struct Shares {
  double within = 0;     ///< what lies in the segment
  double explained = 0;  ///< what of that bears it out
};
/// Of all that the segment's glimpses heard.
Shares shares_of(const Segment& segment);
/// Sets the shares of a pair's only segment anew, with the windows next to it that agree without a break: sounds from
/// another place in the shop lie a few milliseconds beside and may have ended the run.
void count_fringe(Segment& segment);
/// What either clip usually hears where windows bear a line out.
struct Heard {
  double in_a = 0;
  double in_b = 0;
  /// Whether either hears at least that share of it in a window.
  bool reached_by(const Glimpse& one, double share) const {
    return one.in_a >= share * in_a || one.in_b >= share * in_b;
  }
};
/// Medians over the segment's windows that agree; nothing without any.
std::optional<Heard> usual_of(const Segment& segment);
inline constexpr double as_loud_as_usual = 0.5;

/// Sets how much of what happens along the segment's line it explains; windows are `seconds` long. A song on the radio
/// is the same on another day, but the work is not.
void set_shares(const Frames& a, const Frames& b, const LagMap& map, double seconds, Segment& segment);
/// Whether much of what is as loud in both clips as where they match does not fit: a song that was played on two days
/// fits for a while. The fewer windows there are, the more of them must fit. Precondition: not empty.
bool goes_on_unmatched(const std::vector<Segment>& segments);
/// Whether beside what fits either clip goes on hearing things as loud, and the other hears something else or nothing:
/// what both heard may then be a song, and the rest is the work of two days. Precondition: not empty, in a's order.
bool goes_on_alone(const std::vector<Segment>& segments);
/// How many windows there are in which one does, for each that agrees. Precondition: the same.
double share_alone(const std::vector<Segment>& segments);
/// Whether what shows nothing clear leans to the strongest line (loud_leans), and less goes on alone than agrees.
/// Precondition: the same.
bool leans(const std::vector<Segment>& segments);
/// Whether most of what agrees along the strongest line agrees along others too, another bar away: music repeats
/// itself, and where both clips heard the same song nothing else speaks for one day. Precondition: not empty, with all
/// that was proven anywhere; what has less than `least` of the strongest one's proof does not count.
bool only_repeats(const std::vector<Segment>& proven, double least = 0);
/// Whether the coarse search, which hears rises of loudness only, finds a place a bar or more away from the strongest
/// piece nearly as good, and better than luck: it followed a rhythm there. What it heard in another piece's stretch and
/// at that one's place lies beyond a loss and is no bar. Precondition: the pieces are not empty.
bool likely_elsewhere(std::span<const Candidate> candidates, const std::vector<Segment>& pieces);
/// Whether the candidate is at the segment, as far as the coarse search tells.
bool lies_at(const Segment& segment, const Candidate& candidate);
/// Whether of a piece's windows, that were looked for by the sound itself, most stand out on another piece's line, and
/// far fewer on its own.
bool vote_for_another(const std::vector<std::vector<Vote>>& by_window, const Line& own, const Line& another);
/// Whether any piece lies as far from the one before it as bars of music do.
bool a_bar_apart(const std::vector<Segment>& pieces);
/// Whether the coarse search finds any place that is no piece's, better than luck and not far worse than its best one.
bool alike_elsewhere(std::span<const Candidate> candidates, const std::vector<Segment>& pieces);
/// Whether the middle of what the coarse search heard of the candidate lies in a piece, and on its line.
bool heard_along(const Candidate& candidate, const std::vector<Segment>& proven);
/// Whether the coarse search heard the candidate where a piece is proven at a lag of which it heard nothing as good:
/// that may be a bar of music beside the place.
bool heard_better(const Candidate& candidate, std::span<const Candidate> all, const std::vector<Segment>& proven);
/// Whether enough of what both heard fits. Where it is hard to hear, little bears the line out, but all along; where
/// noise hides all of it, the proof must do, of one piece.
bool explains_enough(const std::vector<Segment>& segments);

/// Whether a piece found before, after or between others explains enough of what both heard in that gap.
bool explains_gap(const Segment& piece);

/// Whether what both heard loudest bears the line out at least as often as the rest, of which the share `agreeing`
/// does: noise hides the faint first, but a song that was faint on two days fits where the work on either is loud and
/// does not. True where noise hides all there is.
bool louder_agrees(const std::vector<Segment>& segments, double agreeing);

}  // namespace jigtime::sync
