// Which of a pair's proven stretches can be true together, and where one ends and the next begins.
// Must never know: samples, a third clip.
// Begin reading at: settle.
#pragma once

#include <functional>
#include <vector>

#include "sync/segment.h"

namespace jigtime::sync {

/// Both cannot be: they claim the same stretch of a or of b for different lags, or turn the order around.
bool contradict(const Segment& s, const Segment& t);
bool same_place(const Segment& s, const Segment& t);
/// Two pieces that follow each other, of which luck carried either beyond the loss between them: the windows that both
/// lines share tell where it lies. False, with nothing changed, when that leaves too little of one or when what one has
/// to give up fits it as well.
bool part(Segment& s, Segment& t);

struct Settled {
  std::vector<Segment> pieces;  ///< true together, in a's order
  std::vector<Segment> rivals;  ///< two places for the same, of which neither is much better proven; or none
};
inline constexpr double rival_share = 0.7;  ///< as much of the winner's proof makes another place a rival

/// The best proven first, and of the others those that do not contradict it.
Settled settle(std::vector<Segment> proven);

/// Parts those that can be, so that what none of them bears out is seen as a gap.
void part_all(std::vector<Segment>& proven);
/// Of two neighbours a blow or two apart, where riveting leaves either in doubt and the less proven one was not heard
/// sharply, the other stays, and takes the doubt: the jump may be none. Unless something else bears the jump out, if
/// that is asked. In order of time.
using BorneOut = std::function<bool(const Segment& before, const Segment& after)>;
void leave_out_blows(std::vector<Segment>& segments, const BorneOut& borne_out = {});
/// Pieces that follow each other on one line become one. In order of time.
void join_pieces(std::vector<Segment>& segments);
/// What seemed to lie on one side of a jump and lies beyond it was luck: those observations go, unless all would.
void keep_apart(Segment& before, Segment& after);

}  // namespace jigtime::sync
