// Find: as you type, over everything written; Enter jumps to the picture.
#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

Word kind_word(store::Hit::Kind kind) {
  switch (kind) {
    case store::Hit::Kind::span: return Word::hit_span;
    case store::Hit::Kind::mark: return Word::hit_mark;
    case store::Hit::Kind::item: return Word::hit_item;
    case store::Hit::Kind::entry: return Word::hit_entry;
    case store::Hit::Kind::inspection: return Word::hit_inspection;
    case store::Hit::Kind::photo: return Word::hit_photo;
    case store::Hit::Kind::session: return Word::hit_session;
  }
  return Word::hit_span;
}

std::string day_of(const LedgerView* view, journal::SessionId session) {
  if (view == nullptr) return {};
  for (const SessionLine& line : view->sessions) {
    if (line.session.id == session) return to_text(line.session.date);
  }
  return {};
}

void jump(Model& model, const store::Hit& hit) {
  if (hit.session.value == 0) {
    model.screen = hit.kind == store::Hit::Kind::item ? Screen::items : Screen::ledger;
    return;
  }
  go_to(model, hit.session, hit.begin);
}

int choose(ImGuiInputTextCallbackData* data) {
  auto& find = *static_cast<FindState*>(data->UserData);
  const int last = std::max(static_cast<int>(find.hits.size()) - 1, 0);
  find.chosen = std::clamp(find.chosen + (data->EventKey == ImGuiKey_DownArrow ? 1 : -1), 0, last);
  return 0;
}

void draw_hits(Model& model) {
  FindState& find = model.find;
  if (!begin_table("hits", {Word::col_day, Word::col_at, Word::col_kind, Word::col_words},
                   {as_wide_as_its_words, as_wide_as_its_words, as_wide_as_its_words, 1}))
    return;
  for (int i = 0; i < static_cast<int>(find.hits.size()); ++i) {
    const store::Hit& hit = find.hits[static_cast<std::size_t>(i)];
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const std::string day = day_of(model.ledger_view(), hit.session) + "##" + std::to_string(i);
    if (ImGui::Selectable(day.c_str(), find.chosen == i, ImGuiSelectableFlags_SpanAllColumns)) jump(model, hit);
    ImGui::TableNextColumn();
    if (hit.begin) ImGui::TextUnformatted(to_short_clock_text(hit.begin->time_since_epoch()).c_str());
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(say(kind_word(hit.kind)));
    ImGui::TableNextColumn();
    elided(hit.text, ImGui::GetContentRegionAvail().x);
  }
  ImGui::EndTable();
}

}  // namespace

void draw_find(Model& model) {
  FindState& find = model.find;
  heading(say(Word::find_title));
  if (find.focus) ImGui::SetKeyboardFocusHere();
  const bool taken = input(
      "##find", find.text, say(Word::find_hint), std::min(em(40), ImGui::GetContentRegionAvail().x),
      ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackHistory | ImGuiInputTextFlags_AutoSelectAll,
      choose, &find);
  if (ImGui::IsItemActive()) find.focus = false;
  search(model);
  find.entered = find.entered || taken;
  if (find.entered && find.answered == find.text) {  // never to what an earlier text had found
    find.entered = false;
    if (find.chosen < std::ssize(find.hits)) return jump(model, find.hits[static_cast<std::size_t>(find.chosen)]);
    find.focus = true;
  }
  if (trimmed(find.text).empty()) return empty_state(Word::find_empty, Word::find_empty_do);
  if (find.hits.empty()) return empty_state(Word::find_nothing, Word::find_nothing_do);
  dim(counted(find.hits.size(), Word::hit_one, Word::hit_many));
  draw_hits(model);
}

}  // namespace jigtime::app
