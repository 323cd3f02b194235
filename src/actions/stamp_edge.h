// Whether a camera stamps the beginning of its files or their end.
// Must never know: the journal, files, decoding.
// Begin reading at: settle_edges.
#pragma once

#include <vector>

#include "actions/recordings.h"

namespace jigtime::actions {

/// The time a file format calls that of its creation is taken for the beginning of the recording; many phones write it
/// when they close the file, so that it marks the end. Where one camera's files say so together, their container
/// stamps are marked as ends. What speaks:
/// - a time in the name, which marks the beginning (common practice, no source): the stamp lies at it, or one length
///   after it, zones apart;
/// - two files stamped one after the other that would overlap if the stamps marked one edge, but not if they marked the
/// other: a camera records one
///   at a time;
/// - a file last written one length after its stamp, for the beginning. One written when it was stamped says nothing:
///   tools that fetch footage set the time of the file to that of the stamp.
/// Without at least two words for the end, and nine in ten of all, the stamps stay beginnings.
/// `footage` is one camera's.
void settle_edges(std::vector<Footage>& footage);

}  // namespace jigtime::actions
