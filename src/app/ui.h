// Small helpers on top of Dear ImGui: big buttons with words, text that knows its width, tables.
#pragma once

#include <imgui.h>

#include <functional>
#include <initializer_list>
#include <string>
#include <string_view>

#include "app/view/keys.h"
#include "app/view/words.h"

namespace jigtime::app {

/// The height of a line of text: every length is a multiple of it, so that all grows with the text.
inline float em(float count = 1) { return ImGui::GetFontSize() * count; }

enum class Weight { plain, strong, chosen, quiet };
/// At least a finger high. The key that does the same stands behind the words, dimmed. `width` 0: as wide as needed.
bool button(std::string_view words, Deed key = Deed::none, Weight weight = Weight::plain, float width = 0);
bool button(Word word, Deed key = Deed::none, Weight weight = Weight::plain, float width = 0);
float button_width(std::string_view words, Deed key = Deed::none);
float button_height();
/// One line of a list to choose from: lower than a button, so that the whole list is seen.
bool list_line(std::string_view words, Weight weight, ImVec2 size);
/// Puts the next item on the same line if `width` still fits there.
void flow(float width);

/// One line, cut in the middle where it is longer than `width`; the full text under the pointer then.
void elided(std::string_view text, float width, ImU32 colour = 0);
/// The same for a path: its last name stays whole.
void elided_path(std::string_view path, float width, ImU32 colour = 0);
/// Cut at the end, and in the middle.
std::string shortened(std::string_view text, float width);
std::string abridged(std::string_view text, float width);
std::string shortened_path(std::string_view path, float width);
void heading(std::string_view text);
void wrapped(std::string_view text, ImU32 colour = 0);
void dim(std::string_view text);
/// A tooltip of whole sentences for the item before.
void hint(std::string_view text);

/// One line of text to type in.
bool input(const char* id, std::string& text, const char* hint, float width, ImGuiInputTextFlags flags = 0,
           ImGuiInputTextCallback callback = nullptr, void* about = nullptr);
/// One of the fields drawn since `forget_fields` has the keyboard. ImGui's own word for it, WantTextInput, stays a
/// frame or two longer: keys right behind Enter would be taken for text.
bool field_has_keyboard();
void forget_fields();

/// What stands where there is nothing yet: what this is for, and what to do next.
void empty_state(Word title, Word what_to_do);

/// A bar with words in it: a share of the whole, and beyond it hatched.
void share_bar(double share, double over, std::string_view words, float width);

/// A table with a header line. It scrolls within `height` (0: what is left), or is as high as its rows.
inline constexpr float as_high_as_its_rows = -1;
/// The share of a column whose words are short and are to be seen whole.
inline constexpr float as_wide_as_its_words = 0;
bool begin_table(const char* id, std::initializer_list<Word> columns, std::initializer_list<float> shares,
                 float height = 0);

}  // namespace jigtime::app
