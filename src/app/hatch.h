// Slanted lines: what is missing or doubtful is never told by colour alone.
#pragma once

#include <imgui.h>

namespace jigtime::app {

/// Lines `step` pixels apart inside the rectangle, which is cut to what the clip rectangle shows.
void hatch(ImDrawList& draw, ImVec2 from, ImVec2 to, ImU32 colour, float step);
/// A broken line along the rectangle's edge.
void dashed_frame(ImDrawList& draw, ImVec2 from, ImVec2 to, ImU32 colour, float dash);

}  // namespace jigtime::app
