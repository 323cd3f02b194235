// The system's own font, found through fontconfig.
#pragma once

#include <imgui.h>

#include <string>

namespace jigtime::app {

struct Fonts {
  ImFont* body = nullptr;
  ImFont* big = nullptr;  ///< digits and Latin letters: clocks and headings
};

/// The file of the font that the system prefers for reading on a screen; empty where fontconfig knows none. Only files
/// that ImGui can read (TrueType outlines) are taken.
std::string preferred_font();

/// Builds the atlas anew for that many pixels a line; the caller hands it to the graphics card. Falls back on ImGui's
/// own font.
Fonts load_fonts(const std::string& file, float body_px);

}  // namespace jigtime::app
