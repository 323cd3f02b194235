// A jump so small that a line with a wrong slope runs through both of its sides.
// Must never know: samples, how the observations were made.
#pragma once

#include <optional>
#include <span>

#include "sync/line.h"

namespace jigtime::sync {

struct HiddenJump {
  double at = 0;  ///< clip seconds, between the last observation before and the first after
  Line before;
  Line after;  ///< of the same slope
};

/// Two parallel lines, one after the other, that explain the observations far better than one line does, least_jump or
/// more apart; nothing when one line is as good. Observations in order of time. Sounds from all over a shop scatter the
/// lags but do not come in two such halves, and a rate that changes as a camera warms bends them by less.
std::optional<HiddenJump> hidden_jump(std::span<const Observation> observations);

}  // namespace jigtime::sync
