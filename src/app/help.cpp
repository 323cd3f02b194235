// Help: every key, what it does, and how the window looks.
#include <algorithm>

#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"

namespace jigtime::app {
namespace {

void draw_group(Word group) {
  heading(say(group));
  if (!ImGui::BeginTable(say(group), 2, ImGuiTableFlags_SizingStretchProp)) return;
  ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch, 1.0F);
  ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch, 2.2F);
  for (const KeyLine& line : all_keys()) {
    if (line.group != group) continue;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(key_text(line.press).c_str());
    ImGui::TableNextColumn();
    wrapped(say(line.does));
  }
  ImGui::EndTable();
}

void draw_looks(Model& model) {
  heading(say(Word::looks));
  const bool dark = model.settings.paper == Paper::dark;
  if (button(dark ? Word::to_light : Word::to_dark)) {
    model.settings.paper = dark ? Paper::light : Paper::dark;
    model.settings_changed = true;
  }
  flow(button_width(say(Word::smaller), Deed::smaller));
  const int before = model.settings.scale_percent;
  if (button(Word::smaller, Deed::smaller)) model.settings.scale_percent = next_scale(before, -1);
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(say(Word::text_size, {std::to_string(model.settings.scale_percent)}).c_str());
  flow(button_width(say(Word::bigger), Deed::bigger));
  if (button(Word::bigger, Deed::bigger)) model.settings.scale_percent = next_scale(before, 1);
  if (model.settings.scale_percent != before) model.settings_changed = true;
}

void draw_copies(Model& model) {
  heading(say(Word::copies_title));
  int& room = model.settings.copies_gb;
  const int before = room;
  dim(say(Word::copies_words, {std::to_string(room)}));
  if (button(Word::copies_less)) room = std::max(5, room > 40 ? room / 2 : room - 5);
  ImGui::SameLine();
  if (button(Word::copies_more)) room = std::min(640, room >= 40 ? room * 2 : room + 5);
  if (room != before) model.settings_changed = true;
}

}  // namespace

void draw_help(Model& model) {
  const float width = ImGui::GetContentRegionAvail().x;
  const bool two = width > em(56);
  ImGui::BeginChild("keys left", {two ? width / 2 : 0, 0}, false);
  draw_looks(model);
  draw_copies(model);
  draw_group(Word::keys_everywhere);
  draw_group(Word::keys_tag);
  if (two) {
    ImGui::EndChild();
    ImGui::SameLine();
    ImGui::BeginChild("keys right", {0, 0}, false);
  }
  draw_group(Word::keys_film);
  draw_group(Word::keys_strip);
  draw_group(Word::keys_ledger);
  heading(say(Word::mouse_title));
  dim(say(Word::mouse_words));
  ImGui::EndChild();
}

}  // namespace jigtime::app
