// Whether what two clips have in common is what is loud in them.
// Must never know: candidates, a third clip.
//
// Work of one day is loud where both clips heard it, and between its blows they share nothing. A song that was played
// on two days goes on between the blows, and is hidden where the work of either day is loud.
#pragma once

#include <cmath>
#include <span>
#include <vector>

#include "sync/fine.h"
#include "sync/hearable.h"
#include "sync/lag_map.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// Windows that bear a pair's lines out, by how loud they are.
struct LoudHalf {
  struct Part {
    int windows = 0;
    int agree = 0;
  };
  /// Neighbours: a song begins and ends, and is loud as a whole where it is played.
  struct Run {
    Part loud;  ///< the louder half, where a window ranks as in the clip in which it ranks higher
    Part quiet;
    double evidence = 0;  ///< of the loud ones along the line: each adds 0 or so by luck, with a spread of 1
  };
  std::vector<Run> runs;
  /// Windows summed along the lines, blurred; `rest_z` without any twelve neighbours.
  struct Sum {
    Part part{};
    Backing backing{};
    /// For each window.
    double strength() const { return part.windows > 0 ? backing.z / std::sqrt(static_cast<double>(part.windows)) : 0; }
  };
  Sum loud;           ///< all loud ones
  Sum quiet;          ///< all quiet ones
  Sum loud_in_both;   ///< of each run the third that is loudest in the clip in which it is less loud
  Sum quiet_in_both;  ///< those in the quieter half of both clips
  /// dB by which windows loud in both are louder than those quiet in both, in the clip in which that is less.
  double contrast = 0;
};

/// Runs of twelve windows as long as the matcher's, at most twenty, spread evenly over `within`, clip seconds of a;
/// each window along the line of the nearest segment, and agreeing where what is clearest in it lies there. Those in
/// which either clip is silent are left out. Precondition: there are segments.
LoudHalf loud_half(const Hearing& a, const Hearing& b, const Extent& within, std::span<const Segment> segments,
                   FineMatcher& matcher);

/// Whether enough of what is loud agrees, in at least half of the runs, and hardly anything of what is quiet: window by
/// window, or where noise hides single ones, in their sums.
bool only_loud_agrees(const LoudHalf& half);

}  // namespace jigtime::sync
