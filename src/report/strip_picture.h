// Laid-out strips on a canvas: the drawing of the PDF and of the SVG file.
// Must never know: how the numbers came about.
#pragma once

#include "report/canvas.h"
#include "report/layout.h"

namespace jigtime::report {

/// In the units of the layout, from the canvas's origin; page_width wide, strip.height high.
void draw_strip(Canvas& canvas, const StripLayout& strip);

/// What colours, patterns and whiskers mean; page_width wide, key_height high.
void draw_key(Canvas& canvas);
inline constexpr double key_height = 84;

}  // namespace jigtime::report
