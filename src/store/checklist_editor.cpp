// Checklists and their lines.
#include <set>

#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"

namespace jigtime::store {

using namespace journal;

Done Editor::need_line(std::optional<ChecklistLineId> line) {
  if (!line || Query{database_, "SELECT 1 FROM checklist_line WHERE id = ?1"}.with(*line).next()) return {};
  return Error{Code::not_found, "The line of the checklist is not in the journal. Import the checklist first."};
}

/// Lines of the list that would go although a task carries them.
Done Editor::check_lines_free(ChecklistId list, const std::vector<ChecklistLine>& kept) {
  std::set<ChecklistLineId> stay;
  for (const ChecklistLine& line : kept) stay.insert(line.id);
  Query row{database_,
            "SELECT checklist_line.id, number, task.title FROM checklist_line JOIN task "
            "ON task.checklist_line = checklist_line.id WHERE checklist = ?1 ORDER BY position, task.title"};
  row.with(list);
  while (row.next()) {
    if (stay.contains(row.id<ChecklistLineId>(0))) continue;
    return Error{Code::conflict, "Line " + row.text(1) + " of the checklist is carried by the task \"" + row.text(2) +
                                     "\". Give that task another line first."};
  }
  return {};
}

void Editor::write_lines(ChecklistId list, const std::vector<ChecklistLine>& lines) {
  Query insert{database_,
               "INSERT INTO checklist_line (id, checklist, position, number, title, section, applicable, maker, paid, "
               "assembly, fabrication) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) ON CONFLICT (id) DO "
               "UPDATE SET position = excluded.position, number = excluded.number, title = excluded.title, section = "
               "excluded.section, applicable = excluded.applicable, maker = excluded.maker, paid = excluded.paid, "
               "assembly = excluded.assembly, fabrication = excluded.fabrication RETURNING id"};
  std::set<std::int64_t> kept;
  int position = 0;
  for (const ChecklistLine& line : lines) {
    const auto id = line.id.value == 0 ? std::nullopt : std::optional{line.id};
    kept.insert(insert
                    .with(id, list, position++, std::string_view{line.number}, std::string_view{line.title},
                          std::string_view{line.section}, line.applicable ? 1 : 0, line.tenths[0], line.tenths[1],
                          line.tenths[2], line.tenths[3])
                    .run_for_id());
  }
  std::vector<std::int64_t> gone;
  Query row{database_, "SELECT id FROM checklist_line WHERE checklist = ?1"};
  row.with(list);
  while (row.next()) {
    if (!kept.contains(row.integer(0))) gone.push_back(row.integer(0));
  }
  for (const std::int64_t id : gone) Query{database_, "DELETE FROM checklist_line WHERE id = ?1"}.with(id).run();
}

Result<ChecklistId> Editor::add(const Checklist& list) {
  if (Done rules = check(list); !rules) return rules.error();
  return attempt([&]() -> Result<ChecklistId> {
    if (Done unused =
            need_unused("SELECT 1 FROM checklist WHERE name = ?1 AND id <> ?2", list.name, 0, "A checklist called");
        !unused) {
      return unused.error();
    }
    const ChecklistId id{
        Query{database_, "INSERT INTO checklist (name, title, source, official) VALUES (?1, ?2, ?3, ?4) RETURNING id"}
            .with(std::string_view{list.name}, std::string_view{list.title}, std::string_view{list.source},
                  list.official ? 1 : 0)
            .run_for_id()};
    std::vector<ChecklistLine> lines = list.lines;
    for (ChecklistLine& line : lines) line.id = {};
    write_lines(id, lines);
    return id;
  });
}

Done Editor::update(const Checklist& list) {
  if (Done rules = check(list); !rules) return rules;
  return attempt([&]() -> Done {
    if (!Query{database_, "SELECT 1 FROM checklist WHERE id = ?1"}.with(list.id).next()) {
      return Error{Code::not_found, "The checklist is not in the journal. Add it first."};
    }
    for (const ChecklistLine& line : list.lines) {
      if (line.id.value == 0) continue;
      Query row{database_, "SELECT 1 FROM checklist_line WHERE id = ?1 AND checklist = ?2"};
      if (row.with(line.id, list.id).next()) continue;
      return Error{Code::invalid, "Line " + line.number + " is not one of this checklist. Add it as a new one."};
    }
    if (Done unused = need_unused("SELECT 1 FROM checklist WHERE name = ?1 AND id <> ?2", list.name, list.id.value,
                                  "A checklist called");
        !unused) {
      return unused;
    }
    if (Done free = check_lines_free(list.id, list.lines); !free) return free;
    Query{database_, "UPDATE checklist SET name = ?2, title = ?3, source = ?4, official = ?5 WHERE id = ?1"}
        .with(list.id, std::string_view{list.name}, std::string_view{list.title}, std::string_view{list.source},
              list.official ? 1 : 0)
        .run();
    write_lines(list.id, list.lines);
    return {};
  });
}

Done Editor::remove(ChecklistId list) {
  return attempt([&]() -> Done {
    if (Done free = check_lines_free(list, {}); !free) return free;
    Query{database_, "DELETE FROM checklist WHERE id = ?1"}.with(list).run();
    return {};
  });
}

}  // namespace jigtime::store
