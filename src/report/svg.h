// Draws laid-out strips as SVG inside the page.
// Must never know: how the numbers came about.
// Begin reading at: draw_strip.
#pragma once

#include <string>

#include "report/layout.h"
#include "report/markup.h"

namespace jigtime::report {

/// `number` counts the strips of the page from 1 and keeps the names of its patterns apart from the others'.
void draw_strip(Markup& page, const StripLayout& strip, int number, int of);

/// What colours, patterns and whiskers mean, as a list with samples.
void draw_key(Markup& page);

}  // namespace jigtime::report
