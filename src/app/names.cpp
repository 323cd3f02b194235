// Names: people, assemblies and tasks; renamed, put away, or found to be the same.
#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "app/view/named.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

using actions::Shelved;

constexpr journal::Role roles[] = {journal::Role::builder, journal::Role::helper, journal::Role::hired,
                                   journal::Role::supplier};

void draw_kinds(NamesState& names) {
  struct Kind {
    Shelved what;
    Word word;
  };
  constexpr Kind kinds[] = {{Shelved::person, Word::names_people},
                            {Shelved::assembly, Word::names_assemblies},
                            {Shelved::task, Word::names_tasks}};
  bool first = true;
  for (const Kind& kind : kinds) {
    if (!first) flow(button_width(say(kind.word)));
    first = false;
    if (button(kind.word, Deed::none, names.what == kind.what ? Weight::chosen : Weight::plain))
      names = {kind.what, {}, {}, {}, {}};
  }
}

void draw_adding(Model& model) {
  NamesState& names = model.names;
  const float width = std::min(em(26), ImGui::GetContentRegionAvail().x - button_width(say(Word::name_add)) - em());
  const Word what = names.what == Shelved::assembly ? Word::name_path_hint : Word::name_hint;
  const bool taken = input("##fresh", names.fresh, say(what), width, ImGuiInputTextFlags_EnterReturnsTrue);
  ImGui::SameLine();
  if ((button(Word::name_add) || taken) && !trimmed(names.fresh).empty()) {
    names.asked = trimmed(names.fresh);
    add_named(model, names.what, names.asked);
  }
}

void draw_roles(Model& model, const NamedLine& line) {
  for (const journal::Role role : roles) {
    const std::string words{to_text(role)};
    const bool is = line.beside == words;
    if (role != roles[0]) flow(button_width(words));
    if (button(words, Deed::none, is ? Weight::chosen : Weight::plain) && !is) change_role(model, line.name, role);
  }
}

void draw_opened(Model& model, const std::vector<NamedLine>& lines, const NamedLine& line) {
  NamesState& names = model.names;
  const bool taken = input("##name", names.typed, line.last.c_str(), -1, ImGuiInputTextFlags_EnterReturnsTrue);
  const Renaming meant = renaming(lines, line, names.typed);
  const bool merges = meant.means == Renaming::Means::merge;
  if (merges) dim(say(Word::name_merge_what, {line.name, meant.to}));
  const bool pressed = button(merges ? Word::name_merge : Word::name_rename, Deed::none, Weight::strong);
  if ((pressed || (taken && !merges)) && meant.means != Renaming::Means::nothing) {
    return merges ? merge_named(model, names.what, line.name, meant.to)
                  : rename_named(model, names.what, line.name, meant.to);
  }
  const Word put = line.away ? Word::name_put_back : Word::name_put_away;
  flow(button_width(say(put)));
  if (button(put)) put_named(model, names.what, line.name, line.away ? actions::Place::desk : actions::Place::shelf);
  flow(button_width(say(Word::leave_it)));
  if (button(Word::leave_it)) names.opened.clear();
  if (names.what == Shelved::person) draw_roles(model, line);
}

void draw_line(Model& model, const std::vector<NamedLine>& lines, const NamedLine& line) {
  NamesState& names = model.names;
  ImGui::PushID(line.name.c_str());
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  wrapped(line.name, line.away ? palette().dim : palette().text);
  ImGui::TableNextColumn();
  dim(line.away ? say(Word::name_is_away, {line.beside}) : line.beside);
  ImGui::TableNextColumn();
  if (names.opened == line.name) {
    draw_opened(model, lines, line);
  } else if (button(Word::name_change)) {
    names.opened = line.name;
    names.typed = line.last;
  }
  ImGui::PopID();
}

}  // namespace

void draw_names(Model& model) {
  if (!model.snapshot) return dim(say(Word::reading));
  heading(say(Word::names_title));
  draw_kinds(model.names);
  draw_adding(model);
  const std::vector<NamedLine> lines = named_lines(model.snapshot->known, model.names.what);
  const bool there =
      std::any_of(lines.begin(), lines.end(), [&](const NamedLine& line) { return line.name == model.names.asked; });
  if (there) model.names.fresh = model.names.asked = {};
  if (lines.empty()) return empty_state(Word::names_empty, Word::names_empty_do);
  const Word beside = model.names.what == Shelved::person ? Word::col_role : Word::col_assembly;
  if (!begin_table("names", {Word::col_name, beside, Word::col_change}, {3, 2, 4})) return;
  for (const NamedLine& line : lines) draw_line(model, lines, line);
  ImGui::EndTable();
}

}  // namespace jigtime::app
