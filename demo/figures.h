// The people and what they hold.
#pragma once

#include "demo/stage.h"
#include "demo/story.h"

namespace jigtime::demo {

/// Where a pair of hands is and what it holds.
struct Hands {
  Point at;
  Tool tool = Tool::none;
  bool at_work = false;  ///< inside an act, not on the way between two
};

/// Hands move from act to act and rest at `rest` in between when there is time.
Hands hands_at(const std::vector<Act>& acts, Seconds t, Point rest);

struct Figure {
  Point feet;
  Point faces;  ///< direction, level, of length 1
  Colour overalls;
  Colour hair;
  double height = 1.72;
  bool talks = false;
};

void draw_body(Stage& stage, const Figure& figure, Seconds t);
/// Arms and tool, drawn after everything that stands behind them.
void draw_hands(Stage& stage, const Figure& figure, const Hands& hands, Seconds t);

}  // namespace jigtime::demo
