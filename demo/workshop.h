// What stands still in the pictures: the room, the bench, and the skin with its holes.
#pragma once

#include <array>

#include "demo/stage.h"
#include "demo/story.h"

namespace jigtime::demo {

inline constexpr Point fan_hub{-2.9, 0.1, 1.60};
inline constexpr Point compressor_lamp{2.35, 1.86, 0.72};
inline constexpr Point mug{0.82, 0.33, 0.9};

void draw_room(Stage& stage);
void draw_bench(Stage& stage);
void draw_skin(Stage& stage);
/// One hole as it looks now; covers what was drawn there before.
void draw_hole(Stage& stage, int hole, HoleState state);

}  // namespace jigtime::demo
