// Pictures of a moment, out of the footage.
#pragma once

#include <cstdint>
#include <stop_token>
#include <vector>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::actions {

/// The picture on show at `at`, as JPEG, from the reference camera if it saw it, else from any camera that did (the
/// largest picture first). Code::not_found when none ran; the footage's own error when it cannot be read.
Result<std::vector<std::uint8_t>> still_at(const journal::SessionRecord& record, SessionTime at,
                                           const std::stop_token& stop);

/// The picture of one clip on show at `at`, as JPEG. not_found when its footage was let go or is elsewhere: the message
/// says which.
Result<std::vector<std::uint8_t>> still_of_clip(const journal::Clip& clip, ClipTime at, const std::stop_token& stop);

}  // namespace jigtime::actions
