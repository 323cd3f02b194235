// Moments worth jumping to, and which cameras ran at one.
// Must never know: ImGui, the store.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/view/rows.h"

namespace jigtime::app {

enum class JumpTo { span, mark, riveting, dropout };
enum class Direction { forward, back };

/// The begin of the next (or the one before) of that kind, more than a moment away from `from`; nothing when there is
/// none.
std::optional<SessionTime> next_moment(const StripRows& rows, JumpTo what, Direction direction, SessionTime from);

/// One camera at one instant.
struct CameraNow {
  journal::CameraId camera;
  std::string name;
  std::optional<journal::ClipId> clip{};   ///< what ran; nothing: it was off
  std::optional<SessionTime> off_since{};  ///< end of what it filmed before
  std::optional<SessionTime> off_until{};  ///< begin of what it films next
};
/// In the order of the rows.
std::vector<CameraNow> cameras_at(const StripRows& rows, SessionTime t);

}  // namespace jigtime::app
