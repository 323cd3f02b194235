// Text that is longer than its place: three dots stand for what is left out, and no letter is cut in two.
// Must never know: ImGui.
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace jigtime::app {

/// How wide a text comes out.
using TextWidth = std::function<float(std::string_view)>;

/// Each gives the text as it is where it fits into `width`, and nothing where not one letter of it would.
std::string cut_at_end(std::string_view text, float width, const TextWidth& wide);
/// What tells names apart stands at their begin and at their end: both stay, in equal parts.
std::string cut_in_middle(std::string_view text, float width, const TextWidth& wide);
/// The last name of a path stays whole as long as it fits; then as much of the begin as there is room for.
std::string cut_path(std::string_view path, float width, const TextWidth& wide);

}  // namespace jigtime::app
