// The parts of a recording, each on a line of its own where a little was lost between them.
// Must never know: samples, a third clip.
#pragma once

#include <span>
#include <vector>

#include "sync/candidates.h"
#include "sync/hearable.h"
#include "sync/lag_map.h"

namespace jigtime::sync {

/// Clip seconds of a at which either clip's parts meet, in order.
std::vector<double> joins_of(const Hearable& a, const Hearable& b, const Line& line);

/// A candidate for each stretch between joins, where each lies on a line of its own far better than on the `whole`
/// one's, that goes askew through all; nothing else. Windows reach `half` to either side; `joins` are in order.
std::vector<Candidate> parted_at(const LagMap& map, const Candidate& whole, double half, std::span<const double> joins);

}  // namespace jigtime::sync
