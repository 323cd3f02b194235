#include "app/hatch.h"

#include <algorithm>
#include <cmath>

namespace jigtime::app {
namespace {

void dashed_line(ImDrawList& draw, ImVec2 from, ImVec2 to, ImU32 colour, float dash) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length <= 0) return;
  const ImVec2 unit{(to.x - from.x) / length, (to.y - from.y) / length};
  for (float at = 0; at < length; at += 2 * dash) {
    const float end = std::min(at + dash, length);
    draw.AddLine({from.x + unit.x * at, from.y + unit.y * at}, {from.x + unit.x * end, from.y + unit.y * end}, colour,
                 2);
  }
}

}  // namespace

void hatch(ImDrawList& draw, ImVec2 from, ImVec2 to, ImU32 colour, float step) {
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  from = {std::max(from.x, low.x), from.y};
  to = {std::min(to.x, high.x), to.y};
  if (to.x <= from.x || to.y <= from.y) return;
  draw.PushClipRect(from, to, true);
  const float height = to.y - from.y;
  // On multiples of the step, so that the lines stand still when the rectangle's edge moves.
  for (float x = std::floor((from.x - height) / step) * step; x < to.x; x += step) {
    draw.AddLine({x, to.y}, {x + height, from.y}, colour, 1.5F);
  }
  draw.PopClipRect();
}

void dashed_frame(ImDrawList& draw, ImVec2 from, ImVec2 to, ImU32 colour, float dash) {
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  from.x = std::max(from.x, low.x - dash);
  to.x = std::min(to.x, high.x + dash);
  if (to.x <= from.x) return;
  dashed_line(draw, from, {to.x, from.y}, colour, dash);
  dashed_line(draw, {from.x, to.y}, to, colour, dash);
  dashed_line(draw, from, {from.x, to.y}, colour, dash);
  dashed_line(draw, {to.x, from.y}, to, colour, dash);
}

}  // namespace jigtime::app
