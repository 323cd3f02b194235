// How a line stands, window by window, among all lags around it.
// Must never know: samples, which clips.
//
// That windows agree with a line says little where both clips heard a beat: there is agreement at many lags. But where
// a line is true, what both heard is clearest on it and hardly anywhere else around.
#pragma once

#include <vector>

#include "sync/hearable.h"
#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// What a window says of a line.
Rank rank_of(const LagMap& map, int window, const Line& line);

/// What the windows of a map say.
struct Standing {
  int clear = 0;  ///< windows in which anything stands out
  int first = 0;  ///< of these, `first` and `surely`
  int surely = 0;
  int outdone = 0;
};
Standing standing_of(const LagMap& map, const Line& line);
/// Seconds beside the line, as far as hammering sounds alike, at which several windows of the stretch hear what both
/// clips heard far more clearly than on it, and that in one place, the farthest of such: a sum over many windows of
/// music can outdo the few blows that tell. 0 where there is none, and beyond LagMap::sharp_reach.
double rival_beside(const LagMap& map, const Extent& within, const Line& line);
/// Of the pieces' glimpses, each in its own stretch, and of the strongest one's where there is no piece. Precondition:
/// not empty.
Standing standing_of(const std::vector<Segment>& segments);

/// Of the same windows the share that agrees with its piece's line, and that of them which is not outdone elsewhere.
struct Agreement {
  double all = 0;
  double undisputed = 0;
};
Agreement agreement(const std::vector<Segment>& segments);

/// Whether that is enough to hold the line for true though its lags scatter: sound from all over a shop does.
bool stands_out(const Standing& standing);
/// Whether hardly anything else stands out: then what is as loud and does not agree is hard to hear, no other work.
/// Windows that are unclear count half.
bool stands_alone(const Standing& standing);
/// Windows in which the line is outdone, for each in which it is first; those that are unclear count half. 0 for a few.
double share_outdone(const Standing& standing);
/// Whether that is too often for clips of one day.
bool outdone(const Standing& standing);

}  // namespace jigtime::sync
