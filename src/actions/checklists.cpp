#include "actions/checklists.h"

#include <algorithm>

#include "actions/regimes.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "handbook/callout.h"
#include "handbook/shipped.h"

namespace jigtime::actions {
namespace {

using journal::Checklist;
using journal::ChecklistLine;

ChecklistLine line_of(const handbook::ChecklistRow& row) {
  return {{}, row.number, row.title, row.section, row.applies, row.tenths};
}

Checklist list_of(const handbook::ChecklistText& text) {
  Checklist list{{}, text.name, text.title, text.source, text.official, {}};
  for (const handbook::ChecklistRow& row : text.rows) list.lines.push_back(line_of(row));
  return list;
}

Result<Checklist> find_list(const journal::Register& known, std::string_view name) {
  if (!name.empty()) {
    if (const Checklist* list = known.checklist(name)) return *list;
  } else if (known.checklists.size() == 1) {
    return known.checklists.front();
  }
  if (known.checklists.empty()) {
    return Error{Code::not_found,
                 "The journal has no checklist yet. Take one that is shipped (--use NAME) or read the form in force "
                 "(--import FILE)."};
  }
  std::vector<std::string> names;
  for (const Checklist& list : known.checklists) names.push_back(list.name);
  if (name.empty())
    return Error{Code::invalid, "The journal has the checklists " + listed(names) + ". Say which: --list NAME."};
  return Error{Code::not_found,
               "The journal has no checklist \"" + to_utf8(name) + "\"; it has " + listed(names) + "."};
}

Result<ChecklistLine*> find_line(Checklist& list, const std::string& number) {
  const auto at = std::find_if(list.lines.begin(), list.lines.end(),
                               [&](const ChecklistLine& line) { return line.number == number; });
  if (at != list.lines.end()) return &*at;
  return Error{Code::not_found, "The checklist " + list.name + " has no row \"" + to_utf8(number) + "\"."};
}

Result<handbook::ChecklistText> find_shipped(std::string_view name) {
  std::vector<std::string> names;
  for (const handbook::Shipped& shipped : handbook::shipped_checklists()) {
    names.emplace_back(shipped.name);
    if (shipped.name == name) return handbook::parse_checklist(shipped.text);
  }
  return Error{Code::not_found, "No checklist \"" + to_utf8(name) + "\" is shipped; there is " + listed(names) +
                                    ". To read one of your own: --import FILE."};
}

Result<handbook::ChecklistText> read_file(const std::filesystem::path& file) {
  const auto bytes = read_text(file);
  if (!bytes) return bytes.error();
  auto text = handbook::parse_checklist(*bytes);
  if (!text) return text.error().during(to_utf8(file.string()));
  return text;
}

/// The new list in the place of the journal's own of that name; rows of the same number stay the same rows.
void take_place(Checklist& fresh, const Checklist& there) {
  fresh.id = there.id;
  for (ChecklistLine& line : fresh.lines) {
    for (const ChecklistLine& kept : there.lines) {
      if (kept.number == line.number) line.id = kept.id;
    }
  }
}

/// The list that is to be changed, as it is before rows are filled in. An id of 0 means that the journal has it not
/// yet.
Result<Checklist> begin_change(const journal::Register& known, const ChecklistChange& change) {
  if (!change.use.empty() && change.file) {
    return Error{Code::invalid, "Take a shipped list or read one of your own, not both at once."};
  }
  if (change.use.empty() && !change.file) return find_list(known, change.list);
  const auto text = change.file ? read_file(*change.file) : find_shipped(change.use);
  if (!text) return text.error();
  Checklist list = list_of(*text);
  const Checklist* there = known.checklist(list.name);
  if (there != nullptr && !change.file) {
    return Error{Code::conflict, "The journal has the checklist " + list.name + " already; its rows were kept."};
  }
  if (there != nullptr) take_place(list, *there);
  return list;
}

Done fill_in(Checklist& list, const ChecklistChange& change) {
  for (const RowWords& row : change.split) {
    const auto line = find_line(list, row.number);
    if (!line) return line.error();
    const auto tenths = handbook::parse_tenths(row.words);
    if (!tenths) return tenths.error().during("row " + to_utf8(row.number));
    (*line)->applicable = true;
    (*line)->tenths = *tenths;
  }
  for (const std::string& number : change.left_out) {
    const auto line = find_line(list, number);
    if (!line) return line.error();
    (*line)->applicable = false;
    (*line)->tenths = {};
  }
  return {};
}

Done carry(store::Edit& edit, const journal::Register& known, Checklist& list, const std::vector<RowWords>& rows) {
  for (const RowWords& row : rows) {
    const auto line = find_line(list, row.number);
    if (!line) return line.error();
    const journal::Task* found = known.task(row.words);
    if (found == nullptr) {
      return Error{Code::not_found, "There is no task \"" + to_utf8(row.words) + "\". Add it first: jigtime task."};
    }
    journal::Task task = *found;
    task.checklist_line = (*line)->id;
    if (const Done updated = edit.update(task); !updated) return updated;
  }
  return {};
}

std::string tasks_sentence() {
  return "Tasks, not hours, carry a finding of the builder's share (a national homebuilders' association's questions "
         "and answers, and an authority's table that makes no allowance for man-hours); hours stand in the log for "
         "what else they are good for.";
}

}  // namespace

std::vector<handbook::ChecklistRow> rows_of(const Checklist& list) {
  std::vector<handbook::ChecklistRow> rows;
  for (const ChecklistLine& line : list.lines) {
    rows.push_back({line.number, line.title, line.section, line.applicable, line.tenths});
  }
  return rows;
}

std::vector<ShippedList> shipped_lists() {
  std::vector<ShippedList> lists;
  for (const handbook::Shipped& shipped : handbook::shipped_checklists()) {
    const auto list = handbook::parse_checklist(shipped.text);
    lists.push_back({std::string{shipped.name}, list ? list->title : std::string{}});
  }
  return lists;
}

Result<std::string> change_checklist(store::Store& store, const ChecklistChange& change) {
  const auto known = store.known();
  if (!known) return known.error();
  auto list = begin_change(*known, change);
  if (!list) return list.error();
  if (const Done filled = fill_in(*list, change); !filled) return filled.error();
  const Done done = store.edit("change a checklist", [&](store::Edit& edit) -> Done {
    if (list->id.value != 0) {
      if (const Done updated = edit.update(*list); !updated) return updated;
    } else if (const auto added = edit.add(*list); !added) {
      return added.error();
    }
    // Read again: new rows have their ids only now.
    const auto now = store.known();
    if (!now) return now.error();
    Checklist stored = *now->checklist(list->name);
    return carry(edit, *now, stored, change.carried);
  });
  if (!done) return done.error();
  return list->name;
}

Result<std::string> checklist_text(const store::Store& store, std::string_view name) {
  const auto known = store.known();
  if (!known) return known.error();
  const auto list = find_list(*known, name);
  if (!list) return list.error();
  return handbook::to_text(
      handbook::ChecklistText{list->name, list->title, list->source, list->official, rows_of(*list)});
}

Result<ChecklistView> view_checklist(const store::Store& store, std::string_view name) {
  const auto known = store.known();
  if (!known) return known.error();
  const auto list = find_list(*known, name);
  if (!list) return list.error();
  const auto build = store.build();
  if (!build) return build.error();
  ChecklistView view{list->name, list->title, list->source, list->official, {}, handbook::sum_of(rows_of(*list)),
                     {},         {}};
  for (const ChecklistLine& line : list->lines) {
    ChecklistView::Row row{line, {}};
    for (const journal::Task& task : known->tasks) {
      if (task.checklist_line == line.id && !task.shelf.merged) row.tasks.push_back(task.title);
    }
    view.rows.push_back(std::move(row));
  }
  if (!list->official) {
    view.sentences.emplace_back("This list is no authority's own form: for a finding use the form in force.");
  }
  if (const auto regime = regime_of(*build)) {
    view.sentences.push_back(handbook::share_sentence(*regime, view.sum));
    for (const handbook::Fact& fact : regime->tasks) view.sentences.push_back(handbook::to_text(fact));
  } else {
    view.sentences.push_back(tasks_sentence());
  }
  view.caution = handbook::caution;
  return view;
}

}  // namespace jigtime::actions
