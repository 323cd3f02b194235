// People, assemblies, tasks, cameras, plans and checklists.
#include <unordered_map>

#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {
namespace {

using namespace journal;

template <class RowId>
Shelf<RowId> shelf_in(const Query& row, int column) {
  return {row.integer(column) != 0, row.optional_id<RowId>(column + 1)};
}

constexpr const char* person_columns = "SELECT id, name, role, archived, merged FROM person ";

Person person_of(const Query& row) {
  return {row.id<PersonId>(0), row.text(1), value_in(row, 2, role_words), shelf_in<PersonId>(row, 3)};
}

Assembly assembly_of(const Query& row) {
  return {row.id<AssemblyId>(0), row.optional_id<AssemblyId>(1), row.text(2), row.text(3),
          shelf_in<AssemblyId>(row, 4)};
}

constexpr const char* task_columns =
    "SELECT id, title, assembly, plan_sheet, plan_step, parent, checklist_line, archived, merged FROM task ";

Task task_of(const Query& row) {
  return {row.id<TaskId>(0),
          row.text(1),
          row.optional_id<AssemblyId>(2),
          row.text(3),
          row.text(4),
          row.optional_id<TaskId>(5),
          row.optional_id<ChecklistLineId>(6),
          shelf_in<TaskId>(row, 7)};
}

ChecklistLine line_of(const Query& row) {
  return {row.id<ChecklistLineId>(0),
          row.text(2),
          row.text(3),
          row.text(4),
          row.integer(5) != 0,
          {row.number(6), row.number(7), row.number(8), row.number(9)}};
}

std::vector<PlannedFastener> read_planned(Database& database) {
  std::vector<PlannedFastener> planned;
  Query row{database, "SELECT id, task, callout, count, grip_uin FROM planned ORDER BY id"};
  while (row.next()) {
    PlannedFastener& line = planned.emplace_back();
    line = {row.id<PlannedId>(0), row.id<TaskId>(1), row.text(2), row.number(3)};
    if (!row.is_null(4)) line.grip_uin = row.number(4);
  }
  return planned;
}

}  // namespace

std::vector<Checklist> read_checklists(Database& database) {
  std::vector<Checklist> lists;
  std::unordered_map<std::int64_t, std::size_t> at;
  Query row{database, "SELECT id, name, title, source, official FROM checklist ORDER BY id"};
  while (row.next()) {
    at[row.integer(0)] = lists.size();
    lists.push_back({row.id<ChecklistId>(0), row.text(1), row.text(2), row.text(3), row.integer(4) != 0, {}});
  }
  Query line{database,
             "SELECT id, checklist, number, title, section, applicable, maker, paid, assembly, fabrication "
             "FROM checklist_line ORDER BY checklist, position, id"};
  while (line.next()) lists[at.at(line.integer(1))].lines.push_back(line_of(line));
  return lists;
}

Register read_register(Database& database) {
  Register known;
  Query person{database, person_columns + std::string{"ORDER BY id"}};
  while (person.next()) known.people.push_back(person_of(person));
  Query assembly{database, "SELECT id, parent, name, plan_sheet, archived, merged FROM assembly ORDER BY id"};
  while (assembly.next()) known.assemblies.push_back(assembly_of(assembly));
  Query task{database, task_columns + std::string{"ORDER BY id"}};
  while (task.next()) known.tasks.push_back(task_of(task));
  known.planned = read_planned(database);
  Query camera{database, "SELECT id, name FROM camera ORDER BY id"};
  while (camera.next()) known.cameras.push_back({camera.id<CameraId>(0), camera.text(1)});
  known.checklists = read_checklists(database);
  return known;
}

Register read_named(Database& database, const Span& span) {
  Register known;
  Query person{database, person_columns + std::string{"WHERE id = ?1"}};
  for (const PersonId id : span.people) {
    if (person.with(id).next()) known.people.push_back(person_of(person));
  }
  Query task{database, task_columns + std::string{"WHERE id = ?1"}};
  if (span.task && task.with(*span.task).next()) known.tasks.push_back(task_of(task));
  return known;
}

}  // namespace jigtime::store
