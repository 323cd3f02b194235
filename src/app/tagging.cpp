// What is being tagged, in words, and everything that can be said about it.
#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "app/view/fastener_entry.h"
#include "app/view/list_shape.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

constexpr std::size_t most_offers = 6;

struct EntryWords {
  Word title;
  Word hint;
};

EntryWords words_of(EntryKind kind) {
  switch (kind) {
    case EntryKind::task: return {Word::entry_task, Word::entry_task_hint};
    case EntryKind::person: return {Word::entry_person, Word::entry_person_hint};
    case EntryKind::fasteners: return {Word::entry_fasteners, Word::entry_fasteners_hint};
    case EntryKind::note: return {Word::entry_note, Word::entry_note_hint};
    case EntryKind::mark: return {Word::entry_mark, Word::entry_mark_hint};
    case EntryKind::reword: return {Word::entry_reword, Word::entry_mark_hint};
    case EntryKind::waits: return {Word::entry_waits, Word::entry_waits_hint};
    default: return {Word::entry_go_to, Word::entry_go_to_hint};
  }
}

/// What was set in other sessions is offered too, but never taken for what a short form means.
std::vector<std::string> fastener_offers(const Model& model) {
  std::vector<std::string> likely =
      likely_callouts(model.snapshot->known, model.view().record, model.bench.composer.task());
  if (const LedgerView* ledger = model.ledger_view()) {
    for (const auto& line : ledger->rivets.lines) likely.push_back(line.balance.callout);
  }
  return completions(model.bench.entry.text, likely, most_offers);
}

std::vector<std::string> offers(const Model& model) {
  const Entry& entry = model.bench.entry;
  if (entry.kind == EntryKind::task) return matching_titles(entry.text, model.view().recent, most_offers);
  if (entry.kind == EntryKind::fasteners) return fastener_offers(model);
  return {};
}

struct Completing {
  Entry* entry;
  const std::vector<std::string>* offers;
  bool opened;
};

/// Tab takes the chosen offer, or the first; up and down choose. What stands there already is gone on with: ImGui
/// would have the first letter replace it all.
int complete(ImGuiInputTextCallbackData* data) {
  auto& about = *static_cast<Completing*>(data->UserData);
  const int count = static_cast<int>(about.offers->size());
  if (data->EventFlag == ImGuiInputTextFlags_CallbackAlways && about.opened) {
    data->ClearSelection();
    data->CursorPos = data->BufTextLen;
  }
  if (data->EventFlag == ImGuiInputTextFlags_CallbackHistory && count > 0) {
    const int step = data->EventKey == ImGuiKey_DownArrow ? 1 : -1;
    about.entry->chosen = std::clamp(about.entry->chosen + step, -1, count - 1);
  }
  if (data->EventFlag == ImGuiInputTextFlags_CallbackCompletion && count > 0) {
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, (*about.offers)[static_cast<std::size_t>(std::max(about.entry->chosen, 0))].c_str());
  }
  return 0;
}

void draw_offers(Model& model, const std::vector<std::string>& list) {
  Entry& entry = model.bench.entry;
  for (int i = 0; i < static_cast<int>(list.size()); ++i) {
    const std::string& offer = list[static_cast<std::size_t>(i)];
    if (ImGui::Selectable(shortened(offer, ImGui::GetContentRegionAvail().x).c_str(), entry.chosen == i)) {
      entry.text = offer;
      model.bench.entry_opened = true;
    }
  }
}

void draw_entry(Model& model) {
  Entry& entry = model.bench.entry;
  const EntryWords words = words_of(entry.kind);
  const std::vector<std::string> list = offers(model);
  const std::string title = say(words.title, {to_short_clock_text(entry.at.time_since_epoch())});
  wrapped(title, palette().text);
  if (model.bench.entry_opened) ImGui::SetKeyboardFocusHere();
  Completing about{&entry, &list, model.bench.entry_opened};
  const bool taken = input("##entry", entry.text, say(words.hint), -1,
                           ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCompletion |
                               ImGuiInputTextFlags_CallbackHistory | ImGuiInputTextFlags_CallbackAlways,
                           complete, &about);
  if (ImGui::IsItemActive()) model.bench.entry_opened = false;
  if (taken) {
    if (entry.chosen >= 0 && entry.chosen < std::ssize(list) && entry.kind == EntryKind::task)
      entry.text = list[static_cast<std::size_t>(entry.chosen)];
    take_entry(model);
    model.bench.entry_opened = model.bench.entry.open();
    return;
  }
  if (!entry.why_not.empty()) wrapped(entry.why_not, palette().bad);
  draw_offers(model, list);
  dim(say(Word::entry_keys));
  ImGui::Separator();
}

void draw_state(const Model& model) {
  const Composer& composer = model.bench.composer;
  const bool running = composer.running();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const ImU32 ground = running ? palette().tagging : palette().button;
  const ImU32 words = running ? IM_COL32(0, 0, 0, 255) : palette().text;
  draw.AddRectFilled(at, {at.x + width, at.y + em(1.7F)}, ground, em(0.2F));
  draw.AddText({at.x + em(0.5F), at.y + em(0.35F)}, words,
               say(model.sealed()  ? Word::state_sealed
                   : model.fixed() ? Word::state_read_only
                   : running       ? Word::state_tagging
                                   : Word::state_ready));
  ImGui::Dummy({width, em(1.7F)});
  wrapped(composer.in_words(model.playback.position()));
}

void draw_begin_end(Model& model) {
  const float third = (ImGui::GetContentRegionAvail().x - 2 * ImGui::GetStyle().ItemSpacing.x) / 3;
  const bool running = model.bench.composer.running();
  if (button(Word::begin, Deed::begin, running ? Weight::plain : Weight::strong, third))
    do_at_bench(model, {Deed::begin, 0});
  ImGui::SameLine();
  if (button(Word::end, Deed::end, running ? Weight::strong : Weight::plain, third)) do_at_bench(model, {Deed::end, 0});
  ImGui::SameLine();
  if (button(Word::pause, Deed::pause, Weight::plain, third)) do_at_bench(model, {Deed::pause, 0});
}

void draw_more(Model& model) {
  const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
  struct Choice {
    Word word;
    Deed deed;
  };
  constexpr Choice choices[] = {{Word::task, Deed::task_typed}, {Word::fasteners, Deed::fasteners},
                                {Word::note, Deed::note},       {Word::mark, Deed::mark},
                                {Word::waits, Deed::waits},     {Word::accept, Deed::accept}};
  bool left = true;
  for (const Choice& choice : choices) {
    if (!left) ImGui::SameLine();
    if (button(choice.word, choice.deed, Weight::plain, half)) do_at_bench(model, {choice.deed, 0});
    left = !left;
  }
}

void draw_people(Model& model) {
  dim(say(Word::people_head));
  int number = 0;
  for (const journal::Person& person : model.snapshot->known.people) {
    if (person.shelf.archived || person.shelf.merged) continue;
    const bool named = model.bench.composer.names(person.name);
    const std::string words = (number < 9 ? std::to_string(number + 1) + "  " : std::string{}) + person.name +
                              (named ? "  \xE2\x9C\x93" : "");
    const float width = std::min(button_width(words), ImGui::GetContentRegionAvail().x);
    if (number > 0) flow(width);
    if (button(words, Deed::none, named ? Weight::chosen : Weight::plain))
      model.bench.composer.toggle_person(person.name);
    ++number;
  }
  if (number == 0) dim(say(Word::people_none));
  for (const std::string& name : model.bench.composer.people()) {
    if (model.snapshot->known.person(std::string_view{name}) == nullptr &&
        button(name + "  \xE2\x9C\x93", Deed::none, Weight::chosen)) {
      model.bench.composer.toggle_person(name);
      break;
    }
  }
  flow(button_width(say(Word::person_other), Deed::person_typed));
  if (button(Word::person_other, Deed::person_typed)) do_at_bench(model, {Deed::person_typed, 0});
}

/// All numbers are to be seen without scrolling.
void draw_recent(Model& model) {
  dim(say(Word::recent_head));
  const auto& titles = model.view().recent;
  if (titles.empty()) return dim(say(Word::recent_none));
  const auto count = static_cast<int>(std::min<std::size_t>(titles.size(), 9));
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float gap = em(0.15F);
  const ListShape shape = list_shape(count, {room.y, gap, em(1.2F), em(1.45F)});
  const int rows = (count + shape.columns - 1) / shape.columns;
  const float width = (room.x - static_cast<float>(shape.columns - 1) * gap) / static_cast<float>(shape.columns);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {gap, gap});
  for (int i = 0; i < rows * shape.columns; ++i) {
    const int number = i / shape.columns + i % shape.columns * rows;
    if (number >= count) continue;
    if (i % shape.columns > 0) ImGui::SameLine();
    const std::string& title = titles[static_cast<std::size_t>(number)];
    const Weight weight = model.bench.composer.task() == title ? Weight::chosen : Weight::quiet;
    if (list_line(std::to_string(number + 1) + "  " + title, weight, {width, shape.line}))
      model.bench.composer.choose_task(title);
  }
  ImGui::PopStyleVar();
}

/// What the clicked clip, span or sound is, and what can be done with it.
void draw_selected(Model& model) {
  const BenchState& bench = model.bench;
  for (const StripRow& row : model.view().rows.rows) {
    for (const StripItem& item : row.items) {
      const bool is = (item.kind == ItemKind::span && bench.selected.size() == 1 && bench.selected.contains(item.id)) ||
                      (item.kind == ItemKind::clip && bench.clip == item.id) ||
                      (item.kind == ItemKind::proposal && bench.proposal == item.id) ||
                      (item.kind == ItemKind::mark && bench.mark == item.id);
      if (!is) continue;
      ImGui::Separator();
      wrapped(item.about);
      if (item.kind == ItemKind::clip && item.weak) dim(say(Word::weak_do));
      return;
    }
  }
  if (bench.selected.size() > 1) {
    ImGui::Separator();
    wrapped(counted(bench.selected.size(), Word::span_selected, Word::spans_selected));
  }
}

/// Below all that is pressed often: it is long.
void draw_why(const Model& model) {
  if (!model.bench.clip || model.bench.why.empty()) return;
  ImGui::Separator();
  for (const std::string& sentence : model.bench.why) dim(sentence);
}

void draw_mark_deeds(Model& model) {
  if (!model.bench.mark || !model.bench.selected.empty() || model.fixed()) return;
  if (button(Word::reword, Deed::reword_mark)) do_at_bench(model, {Deed::reword_mark, 0});
  flow(button_width(say(Word::copy_here), Deed::copy_mark));
  if (button(Word::copy_here, Deed::copy_mark)) do_at_bench(model, {Deed::copy_mark, 0});
  flow(button_width(say(Word::remove), Deed::remove));
  if (button(Word::remove, Deed::remove)) do_at_bench(model, {Deed::remove, 0});
}

void draw_span_deeds(Model& model) {
  if (model.bench.selected.empty() || model.fixed()) return;
  struct Choice {
    Word word;
    Deed deed;
  };
  constexpr Choice choices[] = {{Word::split_here, Deed::split},
                                {Word::begin_here, Deed::trim_begin},
                                {Word::end_here, Deed::trim_end},
                                {Word::remove, Deed::remove}};
  bool first = true;
  for (const Choice& choice : choices) {
    if (!first) flow(button_width(say(choice.word), choice.deed));
    first = false;
    if (button(choice.word, choice.deed)) do_at_bench(model, {choice.deed, 0});
  }
}

/// Scrolls below the state where there is little room: what is being tagged stays in sight.
void draw_all_to_say(Model& model) {
  if (model.bench.entry.open()) draw_entry(model);
  if (!model.fixed()) draw_begin_end(model);
  draw_selected(model);
  draw_span_deeds(model);
  draw_mark_deeds(model);
  draw_ties(model);
  if (model.fixed()) return draw_why(model);
  draw_recent(model);
  draw_more(model);
  draw_people(model);
  draw_why(model);
}

}  // namespace

void draw_tagging(Model& model) {
  draw_state(model);
  ImGui::BeginChild("all to say", {0, 0}, false);
  draw_all_to_say(model);
  ImGui::EndChild();
}

}  // namespace jigtime::app
