// Paints the day strip's rows, items, sounds and clock.
#pragma once

#include <imgui.h>

#include "app/model.h"

namespace jigtime::app {

struct StripFrame {
  ImVec2 at;      ///< top left corner of the rows, on the screen; moves as one scrolls
  ImVec2 corner;  ///< top left corner of what is seen
  ImVec2 size;    ///< of what is seen
  StripMetrics metrics;
  SessionTime now;
};

void paint_strip(const Model& model, const StripFrame& frame);

}  // namespace jigtime::app
