#include "actions/shelf.h"

#include <algorithm>

#include "actions/add_row.h"
#include "actions/shop.h"
#include "actions/zone.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

template <class Row>
Result<Row> found(const Row* row, const std::string& what, const std::string& name) {
  if (row != nullptr) return *row;
  return Error{Code::not_found, "There is no " + what + " called \"" + name + "\". \"jigtime " + what +
                                    " JOURNAL list\" prints them all."};
}

Result<journal::Person> person_called(const journal::Register& known, const std::string& name) {
  return found(known.person(name), "person", name);
}
Result<journal::Assembly> assembly_called(const journal::Register& known, const std::string& path) {
  return found(known.assembly(path), "assembly", path);
}
Result<journal::Task> task_called(const journal::Register& known, const std::string& title) {
  return found(known.task(title), "task", title);
}

/// Changes the row that a name leads to.
template <class Find, class Change>
Done change(store::Store& store, const std::string& label, Find find, const std::string& name, Change changed) {
  const auto known = store.known();
  if (!known) return known.error();
  auto row = find(*known, name);
  if (!row) return row.error();
  changed(*row);
  return store.edit(label, [&](store::Edit& edit) { return edit.update(*row); });
}

template <class Change>
Done change(store::Store& store, const std::string& verb, Shelved what, const std::string& name, Change changed) {
  switch (what) {
    case Shelved::person: return change(store, verb + " a person", person_called, name, changed);
    case Shelved::assembly: return change(store, verb + " an assembly", assembly_called, name, changed);
    case Shelved::task: return change(store, verb + " a task", task_called, name, changed);
  }
  return {};
}

template <class Find>
Done merge(store::Store& store, const std::string& label, Find find, const std::string& name, const std::string& into) {
  const auto known = store.known();
  if (!known) return known.error();
  const auto from = find(*known, name);
  if (!from) return from.error();
  const auto to = find(*known, into);
  if (!to) return to.error();
  return store.edit(label, [&](store::Edit& edit) { return edit.merge(from->id, to->id); });
}

void set_name(journal::Person& person, const std::string& name) { person.name = name; }
void set_name(journal::Assembly& assembly, const std::string& name) { assembly.name = name; }
void set_name(journal::Task& task, const std::string& name) { task.title = name; }

/// A whole build takes some thousand hours; what is beyond is a slip of the keyboard.
constexpr Length most_off_camera = std::chrono::hours{10'000};

/// Behind all spans and all placed footage.
SessionTime end_of(const journal::SessionRecord& record) {
  SessionTime end{};
  for (const journal::Span& span : record.spans) end = std::max(end, span.end);
  for (const journal::Placement& placement : record.placements) {
    for (const Piece& piece : placement.pieces) end = std::max(end, piece.session_end());
  }
  return end;
}

}  // namespace

Done rename(store::Store& store, Shelved what, const std::string& name, const std::string& to) {
  return change(store, "rename", what, name, [&](auto& row) { set_name(row, to); });
}

Done put(store::Store& store, Shelved what, const std::string& name, Place place) {
  const bool away = place == Place::shelf;
  return change(store, away ? "archive" : "bring back", what, name, [&](auto& row) { row.shelf.archived = away; });
}

Done merge(store::Store& store, Shelved what, const std::string& name, const std::string& into) {
  switch (what) {
    case Shelved::person: return merge(store, "merge people", person_called, name, into);
    case Shelved::assembly: return merge(store, "merge assemblies", assembly_called, name, into);
    case Shelved::task: return merge(store, "merge tasks", task_called, name, into);
  }
  return {};
}

Done change_role(store::Store& store, const std::string& name, journal::Role role) {
  return change(store, "change a role", person_called, name, [&](journal::Person& person) { person.role = role; });
}

Done set_sheet(store::Store& store, const std::string& path, const std::string& sheet) {
  return change(store, "name a plan sheet", assembly_called, path,
                [&](journal::Assembly& assembly) { assembly.plan_sheet = sheet; });
}

Result<journal::SessionId> add_session(store::Store& store, const journal::Session& session) {
  return add_row(store, "add a session", session);
}

Result<Tagged> add_off_camera(store::Store& store, const OffCamera& work) {
  if (work.length <= Length{0}) return Error{Code::invalid, "Say how long the work took, for example 1:30:00."};
  if (work.length > most_off_camera) {
    return Error{Code::invalid,
                 to_short_clock_text(work.length) +
                     " is more than anybody builds: at most 10000:00:00 can be entered at once. Check the "
                     "hours."};
  }
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  const auto there = std::find_if(sessions->begin(), sessions->end(),
                                  [&](const journal::Session& session) { return session.date == work.day; });
  SpanWords words = work.words;
  words.off_camera = true;
  if (there != sessions->end()) {
    const auto record = store.record(there->id);
    if (!record) return record.error();
    words.from = work.from.value_or(end_of(*record));
    words.to = words.from + work.length;
    return add_spans(store, there->id, {words});
  }
  words.from = work.from.value_or(SessionTime{});
  words.to = words.from + work.length;
  const auto build = store.build();
  if (!build) return build.error();
  journal::Session fresh;
  fresh.date = work.day;
  auto tagged = add_spans(store, fresh, {words});
  if (tagged && std::chrono::sys_days{work.day} > std::chrono::sys_days{today(build->zone)}) {
    tagged->created.push_back(to_text(work.day) + " lies ahead. If it is a slip of the pen: jigtime undo JOURNAL.");
  }
  return tagged;
}

}  // namespace jigtime::actions
