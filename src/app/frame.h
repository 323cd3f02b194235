// One frame: keys first, then the screen that is shown, with the words above and below it.
#pragma once

#include <span>

#include "app/model.h"

namespace jigtime::app {

/// Between ImGui::NewFrame and ImGui::Render. `presses` are the keys since the last frame.
void draw_frame(Model& model, std::span<const Press> presses);

/// A text field has the keyboard.
bool text_is_typed(const Model& model);

/// A text field was opened by a key and has not got the keyboard yet: what is typed next must wait for it.
bool field_is_opening(const Model& model);

}  // namespace jigtime::app
