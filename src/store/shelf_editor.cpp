// Assemblies and tasks, and people, assemblies and tasks that turn out to be one.
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"

namespace jigtime::store {

using namespace journal;

namespace {

constexpr const char* unsealed = "session NOT IN (SELECT session FROM entry)";

std::string_view text(const std::string& value) { return value; }

}  // namespace

Done Editor::need_no_ring(const std::string& table, std::int64_t row, std::optional<std::int64_t> parent) {
  if (!parent) return {};
  Query above{database_, "WITH RECURSIVE up (id) AS (SELECT ?2 UNION SELECT parent FROM " + table +
                             " AS t, up WHERE t.id = up.id AND parent IS NOT NULL) SELECT 1 FROM up WHERE id = ?1"};
  if (!above.with(row, *parent).next()) return {};
  return Error{Code::invalid, "The " + table + " would become a part of itself. Choose another place for it."};
}

Done Editor::need_two(const std::string& table, std::int64_t from, std::int64_t into) {
  if (from == into) return Error{Code::invalid, "That is one and the same " + table + ". Name two."};
  Query row{database_, "SELECT merged FROM " + table + " WHERE id = ?1"};
  for (const std::int64_t id : {from, into}) {
    if (!row.with(id).next()) return Error{Code::not_found, "The " + table + " is not in the journal. Add it first."};
    if (!row.is_null(0)) {
      return Error{Code::conflict, "The " + table + " was merged into another one already. Name that one."};
    }
  }
  return {};
}

void Editor::shelve(const std::string& table, std::int64_t from, std::int64_t into) {
  Query{database_, "UPDATE " + table + " SET merged = ?2 WHERE merged = ?1"}.with(from, into).run();
  Query{database_, "UPDATE " + table + " SET merged = ?2, archived = 1 WHERE id = ?1"}.with(from, into).run();
}

Done Editor::check_assembly(const Assembly& assembly) {
  if (Done parent = need_assembly(assembly.parent); !parent) return parent;
  const auto above = assembly.parent ? std::optional{assembly.parent->value} : std::nullopt;
  if (Done tree = need_no_ring("assembly", assembly.id.value, above); !tree) return tree;
  Query same{database_, "SELECT 1 FROM assembly WHERE name = ?1 AND parent IS ?2 AND id <> ?3"};
  if (!same.with(text(assembly.name), assembly.parent, assembly.id).next()) return {};
  return Error{Code::invalid, "In that place an assembly called \"" + assembly.name +
                                  "\" is in the journal already. Use that one, or choose another."};
}

Result<AssemblyId> Editor::add(const Assembly& given) {
  Assembly assembly = given;
  assembly.id = {};
  if (Done rules = check(assembly); !rules) return rules.error();
  return attempt([&]() -> Result<AssemblyId> {
    if (Done fits = check_assembly(assembly); !fits) return fits.error();
    return AssemblyId{
        Query{database_,
              "INSERT INTO assembly (parent, name, plan_sheet, archived) VALUES (?1, ?2, ?3, ?4) RETURNING id"}
            .with(assembly.parent, text(assembly.name), text(assembly.plan_sheet), assembly.shelf.archived ? 1 : 0)
            .run_for_id()};
  });
}

Done Editor::update(const Assembly& assembly) {
  if (Done rules = check(assembly); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done there = need_assembly(assembly.id); !there) return there;
    if (Done fits = check_assembly(assembly); !fits) return fits;
    Query{database_, "UPDATE assembly SET parent = ?2, name = ?3, plan_sheet = ?4, archived = ?5 WHERE id = ?1"}
        .with(assembly.id, assembly.parent, text(assembly.name), text(assembly.plan_sheet),
              assembly.shelf.archived ? 1 : 0)
        .run();
    return {};
  });
}

Done Editor::check_task(const Task& task) {
  if (Done assembly = need_assembly(task.assembly); !assembly) return assembly;
  if (Done line = need_line(task.checklist_line); !line) return line;
  if (task.parent) {
    if (Done parent = need_task(*task.parent); !parent) return parent;
    if (Done tree = need_no_ring("task", task.id.value, task.parent->value); !tree) return tree;
  }
  return need_unused("SELECT 1 FROM task WHERE title = ?1 AND id <> ?2", task.title, task.id.value, "A task called");
}

Result<TaskId> Editor::add(const Task& given) {
  Task task = given;
  task.id = {};
  if (Done rules = check(task); !rules) return rules.error();
  return attempt([&]() -> Result<TaskId> {
    if (Done fits = check_task(task); !fits) return fits.error();
    return TaskId{Query{database_,
                        "INSERT INTO task (title, assembly, plan_sheet, plan_step, parent, checklist_line, archived) "
                        "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING id"}
                      .with(text(task.title), task.assembly, text(task.plan_sheet), text(task.plan_step), task.parent,
                            task.checklist_line, task.shelf.archived ? 1 : 0)
                      .run_for_id()};
  });
}

Done Editor::update(const Task& task) {
  if (Done rules = check(task); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done there = need_task(task.id); !there) return there;
    if (Done fits = check_task(task); !fits) return fits;
    Query{database_,
          "UPDATE task SET title = ?2, assembly = ?3, plan_sheet = ?4, plan_step = ?5, parent = ?6, "
          "checklist_line = ?7, archived = ?8 WHERE id = ?1"}
        .with(task.id, text(task.title), task.assembly, text(task.plan_sheet), text(task.plan_step), task.parent,
              task.checklist_line, task.shelf.archived ? 1 : 0)
        .run();
    return {};
  });
}

Done Editor::merge(PersonId from, PersonId into) {
  return attempt([&]() -> Done {
    if (Done two = need_two("person", from.value, into.value); !two) return two;
    const std::string open = std::string{"person = ?1 AND span IN (SELECT id FROM span WHERE "} + unsealed + ")";
    // Where both took part, one line is enough.
    Query{database_,
          "DELETE FROM span_person WHERE " + open + " AND span IN (SELECT span FROM span_person WHERE person = ?2)"}
        .with(from, into)
        .run();
    Query{database_, "UPDATE span_person SET person = ?2 WHERE " + open}.with(from, into).run();
    shelve("person", from.value, into.value);
    return {};
  });
}

Done Editor::merge(AssemblyId from, AssemblyId into) {
  return attempt([&]() -> Done {
    if (Done two = need_two("assembly", from.value, into.value); !two) return two;
    if (Done tree = need_no_ring("assembly", from.value, into.value); !tree) return tree;
    Query both{database_,
               "SELECT a.name FROM assembly AS a JOIN assembly AS b ON b.name = a.name AND b.parent = ?2 "
               "WHERE a.parent = ?1 AND a.id <> ?2"};
    if (both.with(from, into).next()) {
      return Error{Code::conflict,
                   "Both assemblies have a part called \"" + both.text(0) + "\". Merge or rename those parts first."};
    }
    Query{database_, "UPDATE assembly SET parent = ?2 WHERE parent = ?1"}.with(from, into).run();
    Query{database_, "UPDATE task SET assembly = ?2 WHERE assembly = ?1"}.with(from, into).run();
    shelve("assembly", from.value, into.value);
    return {};
  });
}

Done Editor::merge(TaskId from, TaskId into) {
  return attempt([&]() -> Done {
    if (Done two = need_two("task", from.value, into.value); !two) return two;
    if (Done tree = need_no_ring("task", from.value, into.value); !tree) return tree;
    const auto move = [&](const std::string& sql) { Query{database_, sql}.with(from, into).run(); };
    move(std::string{"UPDATE span SET task = ?2 WHERE task = ?1 AND "} + unsealed);
    move(std::string{"UPDATE item SET task = ?2 WHERE task = ?1 AND (session IS NULL OR "} + unsealed + ")");
    move("UPDATE task SET parent = ?2 WHERE parent = ?1");
    move(
        "UPDATE planned AS p SET count = p.count + f.count, grip_uin = ifnull(p.grip_uin, f.grip_uin) FROM planned AS "
        "f "
        "WHERE p.task = ?2 AND f.task = ?1 AND f.callout = p.callout");
    move("DELETE FROM planned WHERE task = ?1 AND callout IN (SELECT callout FROM planned WHERE task = ?2)");
    move("UPDATE planned SET task = ?2 WHERE task = ?1");
    move(
        "UPDATE task AS t SET assembly = ifnull(t.assembly, f.assembly), "
        "checklist_line = ifnull(t.checklist_line, f.checklist_line) FROM task AS f WHERE t.id = ?2 AND f.id = ?1");
    shelve("task", from.value, into.value);
    return {};
  });
}

}  // namespace jigtime::store
