// Open items: what waits for a part, a tool, an answer, an inspection, or to be done again.
#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

constexpr journal::ItemKind kinds[] = {journal::ItemKind::part, journal::ItemKind::tool, journal::ItemKind::answer,
                                       journal::ItemKind::inspection, journal::ItemKind::redo};

void draw_new(Model& model) {
  ItemsState& items = model.items;
  dim(say(Word::item_new));
  int index = 0;
  for (const journal::ItemKind kind : kinds) {
    const std::string words{journal::to_text(kind)};
    if (index > 0) flow(button_width(words));
    if (button(words, Deed::none, items.kind == index ? Weight::chosen : Weight::plain)) items.kind = index;
    ++index;
  }
  const float width = std::max(ImGui::GetContentRegionAvail().x - button_width(say(Word::item_add)) - em(), em(8));
  const bool taken = input("##item", items.words, say(Word::item_hint), width, ImGuiInputTextFlags_EnterReturnsTrue);
  ImGui::SameLine();
  if ((button(Word::item_add) || taken) && !trimmed(items.words).empty()) {
    open_item(model, {kinds[items.kind], std::string{trimmed(items.words)}}, std::nullopt);
    items.words.clear();
  }
}

void draw_closing(Model& model, const actions::ItemLine& line) {
  ItemsState& items = model.items;
  const std::int64_t id = line.item.id.value;
  if (line.item.closing) {
    elided(say(Word::item_closed_on, {to_text(line.item.closing->on), line.item.closing->words}),
           ImGui::GetContentRegionAvail().x, palette().dim);
    if (button(Word::item_reopen)) reopen_item(model, id);
    return;
  }
  if (items.closing != id) {
    if (button(Word::item_close)) {
      items.closing = id;
      items.closing_words.clear();
    }
    return;
  }
  const bool taken =
      input("##closing", items.closing_words, say(Word::item_closing_hint), -1, ImGuiInputTextFlags_EnterReturnsTrue);
  if (button(Word::item_close_now, Deed::none, Weight::strong) || taken) {
    close_item(model, id, std::string{trimmed(items.closing_words)});
    items.closing.reset();
  }
}

void draw_line(Model& model, const actions::ItemLine& line) {
  ImGui::PushID(static_cast<int>(line.item.id.value));
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(std::string{journal::to_text(line.item.kind)}.c_str());
  ImGui::TableNextColumn();
  wrapped(line.item.words);
  if (!line.task.empty()) dim(line.task);
  ImGui::TableNextColumn();
  wrapped(say(Word::item_since, {to_text(line.item.opened_on), std::to_string(line.days)}));
  if (line.item.session && line.item.at && button(Word::item_look)) go_to(model, *line.item.session, line.item.at);
  ImGui::TableNextColumn();
  draw_closing(model, line);
  ImGui::PopID();
}

}  // namespace

void draw_items(Model& model) {
  const LedgerView* view = model.ledger_view();
  if (view == nullptr) return dim(say(Word::reading));
  heading(say(Word::items_title));
  draw_new(model);
  if (button(model.items.all ? Word::items_waiting_only : Word::items_all)) model.items.all = !model.items.all;
  std::vector<const actions::ItemLine*> shown;
  for (const actions::ItemLine& line : view->items) {
    if (model.items.all || !line.item.closing) shown.push_back(&line);
  }
  if (shown.empty()) return empty_state(Word::items_empty, Word::items_empty_do);
  if (!begin_table("items", {Word::col_waits_for, Word::col_what, Word::col_since, Word::col_closed},
                   {1.2F, 4, 2, 2.4F}))
    return;
  for (const actions::ItemLine* line : shown) draw_line(model, *line);
  ImGui::EndTable();
}

}  // namespace jigtime::app
