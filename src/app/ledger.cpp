// Ledger: hours, entries and their seals, and whether they are as they were sealed.
#include <algorithm>
#include <utility>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

const actions::HoursTable& table_of(const LedgerView& view, int which) {
  switch (which) {
    case 1: return view.by_assembly;
    case 2: return view.by_person;
    case 3: return view.by_month;
    default: return view.by_task;
  }
}

std::string name_of(const actions::HoursLine& line, int which) {
  switch (which) {
    case 1: return line.assembly.empty() ? std::string{say(Word::no_assembly)} : line.assembly;
    case 2: return line.person;
    case 3: return line.month;
    default: return line.task;
  }
}

/// Who or where, beside what the rows are about.
std::string beside(const actions::HoursLine& line, int which) { return which == 0 ? line.assembly : line.role; }

void draw_totals(const actions::HoursTable& table, journal::Rounding rounding) {
  wrapped(say(Word::totals,
              {report::hours_words(table.person_time, rounding), report::hours_words(table.elapsed, rounding),
               report::hours_words(table.unfilmed, rounding), report::hours_words(table.untagged, rounding)}));
}

void draw_hours(Model& model, const LedgerView& view, float height) {
  heading(say(Word::hours_title));
  draw_totals(view.by_task, view.by_task.rounding);
  int index = 0;
  for (const Word word : {Word::by_task, Word::by_assembly, Word::by_person, Word::by_month}) {
    if (index > 0) flow(button_width(say(word)));
    if (button(word, Deed::none, model.ledger.table == index ? Weight::chosen : Weight::plain))
      model.ledger.table = index;
    ++index;
  }
  const actions::HoursTable& table = table_of(view, model.ledger.table);
  if (table.lines.empty()) return dim(say(Word::hours_empty));
  if (!begin_table("hours",
                   {Word::col_what, model.ledger.table == 0 ? Word::col_assembly : Word::col_role, Word::col_hours,
                    Word::col_unfilmed},
                   {3.6F, 2, 2, 1.6F}, height))
    return;
  for (const actions::HoursLine& line : table.lines) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    wrapped(name_of(line, model.ledger.table));
    ImGui::TableNextColumn();
    wrapped(beside(line, model.ledger.table));
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(report::hours_words(line.shown, table.rounding).c_str());
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(report::hours_words(line.unfilmed, table.rounding).c_str());
  }
  ImGui::EndTable();
}

bool is_appended(const Amending& words, const LedgerView& view) {
  return std::any_of(view.entries.begin(), view.entries.end(), [&](const journal::Entry& entry) {
    return entry.session.value == words.session && entry.before == words.before && entry.after == words.after &&
           entry.reason == words.reason;
  });
}

/// What is amended is read meanwhile.
void draw_entry_text(const Model& model, const LedgerView& view) {
  const auto entry = std::find_if(view.entries.begin(), view.entries.end(), [&](const journal::Entry& one) {
    return one.session.value == model.ledger.amending.session && one.kind == journal::EntryKind::sealing;
  });
  if (entry == view.entries.end()) return;
  ImGui::BeginChild("entry text", {0, em(9)}, true);
  wrapped(entry->text);
  ImGui::EndChild();
}

/// What was typed stays until it is in the record.
void draw_amending(Model& model, const LedgerView& view) {
  Amending& words = model.ledger.amending;
  if (words.asked && is_appended(words, view)) return static_cast<void>(words = {});
  dim(say(Word::amend_do));
  draw_entry_text(model, view);
  if (std::exchange(words.opened, false)) ImGui::SetKeyboardFocusHere();
  input("##before", words.before, say(Word::amend_before), -1);
  input("##after", words.after, say(Word::amend_after), -1);
  input("##reason", words.reason, say(Word::amend_reason), -1);
  if (button(Word::amend_now, Deed::none, Weight::strong)) {
    if (trimmed(words.reason).empty()) return model.tell({std::string{say(Word::amend_needs_reason)}, true});
    words.asked = true;
    amend(model, words);
  }
  ImGui::SameLine();
  if (button(Word::leave_it)) words = {};
}

void draw_entry(Model& model, const journal::Entry& entry, const LedgerView& view) {
  const auto line = std::find_if(view.sessions.begin(), view.sessions.end(),
                                 [&](const SessionLine& one) { return one.session.id == entry.session; });
  const std::string day = line == view.sessions.end() ? std::string{} : report::date_words(line->session.date);
  const bool amends = entry.kind == journal::EntryKind::amendment;
  wrapped(say(amends ? Word::entry_amends : Word::entry_seals, {std::to_string(entry.number), day}));
  dim(say(Word::entry_when, {to_text(entry.sealed_at)}));
  if (amends) wrapped(say(Word::entry_amended, {entry.before, entry.after, entry.reason}));
  elided(say(Word::entry_digest, {entry.digest}), ImGui::GetContentRegionAvail().x, palette().dim);
  if (amends) return;
  ImGui::PushID(entry.number);
  if (model.ledger.amending.session == entry.session.value) {
    draw_amending(model, view);
  } else if (button(Word::amend_begin)) {
    model.ledger.amending = {entry.session.value, {}, {}, {}, true, false};
  }
  ImGui::PopID();
}

void draw_sealing(Model& model, const LedgerView& view) {
  for (const SessionLine& line : view.sessions) {
    if (line.sealed) continue;
    ImGui::PushID(static_cast<int>(line.session.id.value));
    const std::string day = report::date_words(line.session.date);
    const bool here = line.session.id == model.bench.session;
    if (model.ledger.sealing != line.session.id.value) {
      if (button(say(Word::seal_day, {day}), here ? Deed::seal : Deed::none))
        model.ledger.sealing = line.session.id.value;
    } else {
      wrapped(say(Word::seal_sure, {day}), palette().bad);
      if (std::exchange(model.ledger.just_asked, false)) ImGui::SetScrollHereY();
      if (button(Word::seal_now, Deed::seal_sure, Weight::strong)) {
        seal(model, line.session.id);
        model.ledger.sealing = 0;
      }
      ImGui::SameLine();
      if (button(Word::leave_it)) model.ledger.sealing = 0;
    }
    ImGui::PopID();
  }
}

void draw_verified(const actions::Verification& found) {
  const bool sound = found.sound();
  wrapped(say(sound ? Word::verify_good : Word::verify_bad, {std::to_string(found.entries)}),
          sound ? palette().good : palette().bad);
  for (const std::string& fault : found.faults) wrapped(fault, palette().bad);
  for (const auto& path : found.missing) wrapped(say(Word::verify_missing, {to_utf8(path.string())}));
  for (const std::string& sentence : found.renamed) dim(sentence);
  for (const std::string& sentence : found.let_go) dim(sentence);
}

void draw_entries(Model& model, const LedgerView& view) {
  heading(say(Word::entries_title));
  if (button(Word::verify_now, Deed::verify)) verify(model);
  if (model.ledger.verified) draw_verified(*model.ledger.verified);
  if (view.entries.empty()) dim(say(Word::entries_empty));
  for (const journal::Entry& entry : view.entries) draw_entry(model, entry, view);
  ImGui::Separator();
  draw_sealing(model, view);
}

}  // namespace

void do_at_ledger(Model& model, Deed deed) {
  if (deed == Deed::verify) return verify(model);
  if (deed == Deed::seal) {
    const bool there = model.bench_view() != nullptr && !model.sealed();
    if (!there) return model.tell({std::string{say(Word::nothing_to_seal)}, true});
    if (model.fixed()) return model.tell({model.why_fixed(), true});
    model.ledger.sealing = model.bench.session.value;
    model.ledger.just_asked = true;
  }
  if (deed == Deed::seal_sure && model.ledger.sealing != 0) {
    seal(model, journal::SessionId{model.ledger.sealing});
    model.ledger.sealing = 0;
  }
}

void draw_ledger(Model& model) {
  const LedgerView* view = model.ledger_view();
  if (view == nullptr) return dim(say(Word::reading));
  if (view->sessions.empty()) return empty_state(Word::ledger_empty, Word::ledger_empty_do);
  const float width = ImGui::GetContentRegionAvail().x;
  const bool two = width > em(56);
  ImGui::BeginChild("hours side", {two ? width * 0.58F : 0, 0}, false);
  draw_hours(model, *view, two ? 0 : as_high_as_its_rows);
  if (two) {
    ImGui::EndChild();
    ImGui::SameLine();
    ImGui::BeginChild("entries side", {0, 0}, false);
  }
  draw_entries(model, *view);
  ImGui::EndChild();
}

}  // namespace jigtime::app
