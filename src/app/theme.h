// Colours and sizes. The Okabe-Ito set carries meaning, never alone: words, outlines and hatching say the same.
#pragma once

#include <imgui.h>

#include "app/view/rows.h"
#include "app/view/settings.h"

namespace jigtime::app {

struct Palette {
  ImU32 text = 0;
  ImU32 dim = 0;  ///< second-rank words; still 4.5 : 1 against every ground
  ImU32 ground = 0;
  ImU32 panel = 0;
  ImU32 line = 0;
  ImU32 button = 0;
  ImU32 strong = 0;  ///< the one deed that matters most on a screen
  ImU32 on_strong = 0;
  ImU32 now = 0;      ///< the instant on show
  ImU32 tagging = 0;  ///< a span is running
  ImU32 bad = 0;
  ImU32 good = 0;
  ImU32 on_item = 0;  ///< words on items of the strip
};

const Palette& palette();
/// Colour of an item of the strip.
ImU32 colour_of(const StripItem& item);
ImU32 with_alpha(ImU32 colour, float alpha);

/// Sets ImGui's colours and sizes for `scale` (1 is 100 % on a screen of usual density).
void use_theme(Paper paper, float scale);

}  // namespace jigtime::app
