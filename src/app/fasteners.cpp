// Fasteners: planned against set, over all sessions.
#include "journal/fasteners.h"

#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "handbook/callout.h"

namespace jigtime::app {
namespace {

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

void draw_line(const actions::RivetTable::Line& line) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  wrapped(line.task);
  if (!line.location.empty()) dim(line.location);
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
  if (ledger->rivets.lines.empty()) return empty_state(Word::fasteners_empty, Word::fasteners_empty_do);
  heading(say(Word::fasteners_title));
  const float below = ledger->rivets.warnings.empty() ? em(4) : ImGui::GetContentRegionAvail().y * 0.35F;
  if (begin_table("fasteners",
                  {Word::col_task, Word::col_callout, Word::col_against_plan, Word::col_set, Word::col_drilled},
                  {3, 3, 3.4F, 0.9F, 1.9F}, ImGui::GetContentRegionAvail().y - below)) {
    for (const auto& line : ledger->rivets.lines) draw_line(line);
    ImGui::EndTable();
  }
  ImGui::BeginChild("second looks", {0, 0}, false);
  if (!ledger->rivets.warnings.empty()) heading(say(Word::second_look));
  for (const std::string& warning : ledger->rivets.warnings) wrapped(warning);
  dim(handbook::caution);
  ImGui::EndChild();
}

}  // namespace jigtime::app
