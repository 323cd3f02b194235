// Fasteners: planned against set, over all sessions.
#include "journal/fasteners.h"

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "app/view/fastener_entry.h"
#include "base/text.h"
#include "handbook/callout.h"

namespace jigtime::app {
namespace {

constexpr std::size_t most_offers = 4;

void draw_bar(const journal::FastenerBalance& balance) {
  const int good = balance.set - balance.drilled;
  const std::string words = balance.planned > 0
                                ? say(balance.over() > 0 ? Word::bar_over : Word::bar_left,
                                      {std::to_string(good), std::to_string(balance.planned),
                                       std::to_string(balance.over() > 0 ? balance.over() : balance.left())})
                                : say(Word::bar_unplanned, {std::to_string(good)});
  const double planned = balance.planned > 0 ? balance.planned : 1;
  share_bar(balance.planned > 0 ? good / planned : 0, balance.planned > 0 ? balance.over() / planned : 0, words,
            ImGui::GetContentRegionAvail().x);
}

std::vector<std::string> titles_of(const journal::Register& known) {
  std::vector<std::string> titles;
  for (const journal::Task& task : known.tasks) {
    if (!task.shelf.archived && !task.shelf.merged) titles.push_back(task.title);
  }
  return titles;
}

/// Lines that complete what was typed; one that is clicked takes its place.
void draw_offers(std::string& typed, const std::vector<std::string>& offers) {
  for (const std::string& offer : offers) {
    if (ImGui::Selectable(shortened(offer, ImGui::GetContentRegionAvail().x).c_str())) typed = offer;
  }
}

void take_plan(Model& model, const std::vector<std::string>& likely) {
  FastenersState& state = model.fasteners;
  state.why_not.clear();
  const std::string task{trimmed(state.task)};
  const auto planned = read_planned(state.planned, likely);
  if (task.empty() || !planned) {
    state.why_not = task.empty() ? std::string{say(Word::plan_needs_task)} : planned.error().message();
    return;
  }
  plan_fasteners(model, task, *planned);
}

/// What the drawing asks for: added, changed, or taken out.
void draw_plan(Model& model) {
  FastenersState& state = model.fasteners;
  dim(say(Word::plan_do));
  const journal::Register& known = model.snapshot->known;
  const auto likely = likely_callouts(known, {}, state.task);
  const float button_room = button_width(say(Word::plan_now)) + 2 * ImGui::GetStyle().ItemSpacing.x;
  const float width = (ImGui::GetContentRegionAvail().x - button_room) / 2;
  input("##task", state.task, say(Word::plan_task_hint), width);
  ImGui::SameLine();
  const bool taken =
      input("##planned", state.planned, say(Word::plan_hint), width, ImGuiInputTextFlags_EnterReturnsTrue);
  ImGui::SameLine();
  if (button(Word::plan_now) || taken) take_plan(model, likely);
  if (!state.why_not.empty()) wrapped(state.why_not, palette().bad);
  if (!state.task.empty() && known.task(std::string_view{state.task}) == nullptr)
    draw_offers(state.task, matching_titles(state.task, titles_of(known), most_offers));
  if (!state.planned.empty() && !read_planned(state.planned, likely))
    draw_offers(state.planned, completions(state.planned, likely, most_offers));
}

void draw_line(Model& model, const actions::RivetTable::Line& line) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  ImGui::PushID(&line);
  if (ImGui::Selectable("##line", false, ImGuiSelectableFlags_SpanAllColumns, {0, 2 * ImGui::GetTextLineHeight()}))
    model.fasteners = {line.task, line.balance.callout + " x " + std::to_string(line.balance.planned), {}};
  ImGui::PopID();
  ImGui::SameLine(0, 0);
  ImGui::BeginGroup();
  wrapped(line.task);
  if (!line.location.empty()) dim(line.location);
  ImGui::EndGroup();
  ImGui::TableNextColumn();
  wrapped(line.balance.callout);
  ImGui::TableNextColumn();
  draw_bar(line.balance);
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(std::to_string(line.balance.set).c_str());
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(std::to_string(line.balance.drilled).c_str());
}

}  // namespace

void draw_fasteners(Model& model) {
  const LedgerView* ledger = model.ledger_view();
  if (ledger == nullptr) return dim(say(Word::reading));
  heading(say(Word::fasteners_title));
  draw_plan(model);
  if (ledger->rivets.lines.empty()) return empty_state(Word::fasteners_empty, Word::fasteners_empty_do);
  const float room = ImGui::GetContentRegionAvail().y;
  const bool all_scrolls = room < em(16);  // too little for a table that scrolls by itself
  const float below = ledger->rivets.warnings.empty() ? em(4) : room * 0.35F;
  if (begin_table("fasteners",
                  {Word::col_task, Word::col_callout, Word::col_against_plan, Word::col_set, Word::col_drilled},
                  {3, 3, 3.4F, 0.9F, 1.9F}, all_scrolls ? as_high_as_its_rows : room - below)) {
    for (const auto& line : ledger->rivets.lines) draw_line(model, line);
    ImGui::EndTable();
  }
  if (!all_scrolls) ImGui::BeginChild("second looks", {0, 0}, false);
  if (!ledger->rivets.warnings.empty()) heading(say(Word::second_look));
  for (const std::string& warning : ledger->rivets.warnings) wrapped(warning);
  dim(handbook::caution);
  if (!all_scrolls) ImGui::EndChild();
}

}  // namespace jigtime::app
