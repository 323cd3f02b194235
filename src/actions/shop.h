// Who works, on what: people, assemblies, tasks and what the drawing asks for.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Makes a new journal file. Errors: invalid (exists already, no name, no such zone), denied, no_space, not_found (no
/// such folder).
Result<store::Store> new_journal(const std::filesystem::path& path, journal::Build build);

Done add_person(store::Store& store, const std::string& name, journal::Role role);

/// "Tail / Elevator, left" adds what is missing of the path. Returns the last one's id, new or not.
Result<journal::AssemblyId> add_assembly(store::Store& store, const std::string& path);

struct TaskWords {
  std::string title;
  std::string assembly;  ///< path; empty for none; added where missing
  std::string plan_sheet;
  std::string plan_step;
  std::vector<std::string> planned;  ///< CALLOUT=COUNT[@GRIP]; without a grip the one that is planned already stays
  std::string parent{};              ///< title of the task it is a part of; empty for none
  std::string checklist_line{};      ///< LIST:NUMBER; empty for none
};

/// Adds the task, or, where one with the title exists, changes what is given and keeps the rest.
Done add_task(store::Store& store, const TaskWords& words);

/// Inside an edit: the assembly at the end of a path, adding what is missing of it to journal and `known`.
Result<std::optional<journal::AssemblyId>> assembly_at(store::Edit& edit, journal::Register& known,
                                                       const std::string& path);

/// The part before the last '=' and the whole number behind it; Code::invalid with what was wrong otherwise.
struct Counted {
  std::string callout;  ///< canonical
  std::string count;    ///< as written
};
Result<Counted> parse_counted(const std::string& text, std::string_view form);

/// The thickness of a whole stack in inches, with a point or a comma, as millionths: above 0, at most 4 in.
Result<int> parse_grip(std::string_view text);

/// A whole number from 0 to 99,999 without sign or blanks; nothing otherwise.
std::optional<int> parse_count(std::string_view text);

}  // namespace jigtime::actions
