#include "app/ui.h"

#include <algorithm>
#include <cfloat>
#include <cmath>

#include "app/hatch.h"
#include "app/theme.h"
#include "app/view/abridged.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

ImVec2 size_of(std::string_view text) { return ImGui::CalcTextSize(text.data(), text.data() + text.size()); }
float width_of(std::string_view text) { return size_of(text).x; }

struct Shades {
  ImU32 ground;
  ImU32 words;
};

Shades shades_of(Weight weight) {
  const Palette& p = palette();
  switch (weight) {
    case Weight::strong: return {p.strong, p.on_strong};
    case Weight::chosen: return {p.tagging, IM_COL32(0, 0, 0, 255)};
    case Weight::quiet: return {p.ground, p.text};
    case Weight::plain: break;
  }
  return {p.button, p.text};
}

/// For the item before, when the pointer is on it or the keyboard has walked to it.
void hint_here(std::string_view text) {
  if (ImGui::IsItemHovered()) return hint(text);
  if (!ImGui::IsItemFocused() || !ImGui::GetIO().NavVisible) return;
  ImGui::SetNextWindowPos({ImGui::GetItemRectMin().x, ImGui::GetItemRectMax().y});
  hint(text);
}

/// Something to press, with words on it that are cut in the middle where they are too long.
bool plate(std::string_view words, const std::string& key, Weight weight, ImVec2 size) {
  const Shades shades = shades_of(weight);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::PushStyleColor(ImGuiCol_Button, shades.ground);
  const bool pressed = ImGui::Button(("##" + std::string{words}).c_str(), size);
  ImGui::PopStyleColor();
  const float pad = ImGui::GetStyle().FramePadding.x;
  const float key_width = key.empty() ? 0 : width_of(key) + em(0.6F);
  const std::string shown = abridged(words, size.x - 2 * pad - key_width);
  if (shown != words) hint_here(words);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float y = at.y + (size.y - em()) / 2;
  draw->AddText({at.x + pad, y}, shades.words, shown.c_str());
  if (!key.empty()) {
    const ImU32 colour = weight == Weight::plain || weight == Weight::quiet ? palette().dim : shades.words;
    draw->AddText({at.x + size.x - pad - width_of(key), y}, colour, key.c_str());
  }
  return pressed;
}

void draw_cut(std::string_view whole, const std::string& shown, ImU32 colour) {
  ImGui::PushStyleColor(ImGuiCol_Text, colour == 0 ? palette().text : colour);
  ImGui::TextUnformatted(shown.c_str());
  ImGui::PopStyleColor();
  if (shown != whole) hint_here(whole);
}

bool a_field_has_keyboard = false;  // of the one window, as ImGui's own state

int resize_text(ImGuiInputTextCallbackData* data) {
  auto& text = *static_cast<std::string*>(data->UserData);
  text.resize(static_cast<std::size_t>(data->BufTextLen));
  data->Buf = text.data();
  return 0;
}

struct InputAbout {
  std::string* text;
  ImGuiInputTextCallback callback;
  void* about;
};

int on_input(ImGuiInputTextCallbackData* data) {
  auto& about = *static_cast<InputAbout*>(data->UserData);
  if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
    data->UserData = about.text;
    resize_text(data);
    data->UserData = &about;
    return 0;
  }
  data->UserData = about.about;
  const int answer = about.callback == nullptr ? 0 : about.callback(data);
  data->UserData = &about;
  return answer;
}

}  // namespace

float button_width(std::string_view words, Deed key) {
  const std::string name = key_of(key);
  const float gap = name.empty() ? 0 : em(0.6F);
  return size_of(words).x + gap + size_of(name).x + 2 * ImGui::GetStyle().FramePadding.x;
}

float button_height() { return std::max(em() + 2 * ImGui::GetStyle().FramePadding.y, em(1.9F)); }

bool button(std::string_view words, Deed key, Weight weight, float width) {
  const float wanted =
      width > 0 ? width : std::min(button_width(words, key), std::max(ImGui::GetContentRegionAvail().x, em(3)));
  // Where there is no room for both, the words matter more than the key.
  const bool both = wanted + 1 >= button_width(words, key);
  return plate(words, both ? key_of(key) : std::string{}, weight, {wanted, button_height()});
}

bool button(Word word, Deed key, Weight weight, float width) {
  return button(std::string_view{say(word)}, key, weight, width);
}

void flow(float width) {
  ImGui::SameLine();
  if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
}

bool list_line(std::string_view words, Weight weight, ImVec2 size) { return plate(words, {}, weight, size); }

std::string shortened(std::string_view text, float width) { return cut_at_end(text, width, width_of); }

std::string abridged(std::string_view text, float width) { return cut_in_middle(text, width, width_of); }

std::string shortened_path(std::string_view path, float width) { return cut_path(path, width, width_of); }

void elided(std::string_view text, float width, ImU32 colour) { draw_cut(text, abridged(text, width), colour); }

void elided_path(std::string_view path, float width, ImU32 colour) {
  draw_cut(path, shortened_path(path, width), colour);
}

void heading(std::string_view text) {
  ImGui::Dummy({0, em(0.2F)});
  ImGui::PushFont(ImGui::GetIO().Fonts->Fonts.back());
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::PopFont();
}

void wrapped(std::string_view text, ImU32 colour) {
  ImGui::PushStyleColor(ImGuiCol_Text, colour == 0 ? palette().text : colour);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
}

void dim(std::string_view text) { wrapped(text, palette().dim); }

void hint(std::string_view text) {
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(em(28));
  ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

bool input(const char* id, std::string& text, const char* hint_text, float width, ImGuiInputTextFlags flags,
           ImGuiInputTextCallback callback, void* about) {
  InputAbout all{&text, callback, about};
  ImGui::SetNextItemWidth(width);
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 1);
  const bool changed = ImGui::InputTextWithHint(id, hint_text, text.data(), text.capacity() + 1,
                                                flags | ImGuiInputTextFlags_CallbackResize, on_input, &all);
  ImGui::PopStyleVar();
  a_field_has_keyboard = a_field_has_keyboard || ImGui::IsItemActive();
  return changed;
}

bool field_has_keyboard() { return a_field_has_keyboard; }
void forget_fields() { a_field_has_keyboard = false; }

void empty_state(Word title, Word what_to_do) {
  ImGui::Dummy({0, em(2)});
  const float width = std::min(ImGui::GetContentRegionAvail().x - em(2), em(34));
  ImGui::Indent(em(1.5F));
  heading(say(title));
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
  ImGui::PushStyleColor(ImGuiCol_Text, palette().dim);
  ImGui::TextUnformatted(say(what_to_do));
  ImGui::PopStyleColor();
  ImGui::PopTextWrapPos();
  ImGui::Unindent(em(1.5F));
}

void share_bar(double share, double over, std::string_view words, float width) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = em(1.5F);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const double whole = 1 + std::max(over, 0.0);
  const float end = at.x + width * static_cast<float>(std::clamp(share, 0.0, 1.0) / whole);
  const float plan = at.x + width * static_cast<float>(1 / whole);
  draw->AddRectFilled(at, {at.x + width, at.y + height}, palette().panel, em(0.2F));
  draw->AddRectFilled(at, {end, at.y + height}, with_alpha(palette().good, 0.55F), em(0.2F));
  if (over > 0) hatch(*draw, {plan, at.y}, {at.x + width, at.y + height}, palette().bad, em(0.4F));
  draw->AddRect(at, {at.x + width, at.y + height}, palette().line, em(0.2F));
  const std::string shown = shortened(words, width - em(0.8F));
  draw->AddText({at.x + em(0.4F), at.y + (height - em()) / 2}, palette().text, shown.c_str());
  ImGui::Dummy({width, height});
}

bool begin_table(const char* id, std::initializer_list<Word> columns, std::initializer_list<float> shares,
                 float height) {
  const bool scrolls = height >= 0;
  const ImGuiTableFlags flags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_Resizable |
                                ImGuiTableFlags_NoBordersInBody | ImGuiTableFlags_SizingStretchProp |
                                (scrolls ? ImGuiTableFlags_ScrollY : ImGuiTableFlags_None);
  if (!ImGui::BeginTable(id, static_cast<int>(columns.size()), flags, {0, scrolls ? height : 0})) return false;
  if (scrolls) ImGui::TableSetupScrollFreeze(0, 1);
  auto share = shares.begin();
  for (const Word column : columns) {
    const float width = *share++;
    ImGui::TableSetupColumn(
        say(column),
        width == as_wide_as_its_words ? ImGuiTableColumnFlags_WidthFixed : ImGuiTableColumnFlags_WidthStretch, width);
  }
  ImGui::TableHeadersRow();
  return true;
}

}  // namespace jigtime::app
