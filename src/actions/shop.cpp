#include "actions/shop.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include "actions/zone.h"
#include "base/text.h"
#include "handbook/callout.h"
#include "journal/rules.h"

namespace jigtime::actions {
namespace {

/// What the plan says already.
std::optional<int> planned_grip(const journal::Register& known, journal::TaskId task, const std::string& callout) {
  for (const journal::PlannedFastener& line : known.planned) {
    if (line.task == task && line.callout == callout) return line.grip_uin;
  }
  return std::nullopt;
}

/// "58", or "58@0.064"; "@0" takes the grip away.
Result<journal::PlannedFastener> planned_line(const journal::Register& known, journal::TaskId task,
                                              const std::string& text) {
  const auto counted = parse_counted(text, "CALLOUT=COUNT[@GRIP]");
  if (!counted) return counted.error();
  const std::size_t at = counted->count.find('@');
  const auto count = parse_count(trimmed(std::string_view{counted->count}.substr(0, at)));
  if (!count) return Error{Code::invalid, "\"" + text + "\": the count must be a whole number from 0 to 99999."};
  journal::PlannedFastener line{{}, task, counted->callout, *count, planned_grip(known, task, counted->callout)};
  if (at == std::string::npos) return line;
  const std::string grip{trimmed(std::string_view{counted->count}.substr(at + 1))};
  if (grip == "0") {
    line.grip_uin.reset();
    return line;
  }
  const auto read = parse_grip(grip);
  if (!read) return read.error().during("\"" + text + "\"");
  line.grip_uin = *read;
  return line;
}

Done plan(store::Edit& edit, const journal::Register& known, journal::TaskId task,
          const std::vector<std::string>& planned) {
  for (const std::string& text : planned) {
    const auto line = planned_line(known, task, text);
    if (!line) return line.error();
    if (const Done set = edit.set_planned(*line); !set) return set;
  }
  return {};
}

}  // namespace

Result<store::Store> new_journal(const std::filesystem::path& path, journal::Build build) {
  if (const Done named = journal::check_name(build.name, "build"); !named) return named.error();
  std::error_code unknown;
  if (std::filesystem::exists(path, unknown)) {
    return Error{Code::conflict,
                 "\"" + path.string() + "\" is there already. Choose another name; the file was not touched."};
  }
  if (build.zone.empty()) build.zone = Zone::here();
  if (const auto zone = Zone::find(build.zone); !zone) return zone.error();
  return store::Store::create(path, build);
}

Done add_person(store::Store& store, const std::string& name, journal::Role role) {
  return store.edit("add a person", [&](store::Edit& edit) -> Done {
    const auto added = edit.add(journal::Person{{}, name, role});
    if (!added) return added.error();
    return {};
  });
}

Result<std::optional<journal::AssemblyId>> assembly_at(store::Edit& edit, journal::Register& known,
                                                       const std::string& path) {
  std::optional<journal::AssemblyId> parent;
  if (trimmed(path).empty()) return parent;
  if (const journal::Assembly* found = known.assembly(path)) return std::optional{found->id};
  for (const std::string& step : split(path, '/')) {
    const std::string name{trimmed(step)};
    if (name.empty())
      return Error{Code::invalid, "\"" + path + "\" has an empty step. Write a path like \"Tail / Elevator\"."};
    const journal::Assembly* found = nullptr;
    for (const journal::Assembly& assembly : known.assemblies) {
      if (assembly.parent == parent && assembly.name == name) found = &assembly;
    }
    if (found != nullptr) {
      parent = found->id;
      continue;
    }
    const auto added = edit.add(journal::Assembly{{}, parent, name});
    if (!added) return added.error();
    known.assemblies.push_back({*added, parent, name});
    parent = *added;
  }
  return parent;
}

Result<journal::AssemblyId> add_assembly(store::Store& store, const std::string& path) {
  auto known = store.known();
  if (!known) return known.error();
  std::optional<journal::AssemblyId> made;
  const Done added = store.edit("add an assembly", [&](store::Edit& edit) -> Done {
    const auto found = assembly_at(edit, *known, path);
    if (!found) return found.error();
    if (!*found) return Error{Code::invalid, "The assembly needs a name."};
    made = **found;
    return {};
  });
  if (!added) return added.error();
  return *made;
}

namespace {

/// Parent and checklist line, where the words name them.
Done set_relations(journal::Task& task, const TaskWords& words, const journal::Register& known) {
  if (!words.parent.empty()) {
    const journal::Task* parent = known.task(words.parent);
    if (parent == nullptr) {
      return Error{Code::not_found, "There is no task called \"" + words.parent + "\". Add it first."};
    }
    task.parent = parent->id;
  }
  if (words.checklist_line.empty()) return {};
  const std::size_t colon = words.checklist_line.rfind(':');
  if (colon == std::string::npos) {
    return Error{Code::invalid,
                 "\"" + words.checklist_line + "\" is not of the form LIST:NUMBER, for example metal:E4."};
  }
  const journal::Checklist* list = known.checklist(words.checklist_line.substr(0, colon));
  if (list != nullptr) {
    for (const journal::ChecklistLine& line : list->lines) {
      if (line.number == words.checklist_line.substr(colon + 1)) task.checklist_line = line.id;
    }
  }
  if (list != nullptr && task.checklist_line) return {};
  return Error{Code::not_found,
               "The journal has no line \"" + words.checklist_line + "\" of a checklist. Import the checklist first."};
}

}  // namespace

Done add_task(store::Store& store, const TaskWords& words) {
  auto known = store.known();
  if (!known) return known.error();
  return store.edit("add a task", [&](store::Edit& edit) -> Done {
    const auto assembly = assembly_at(edit, *known, words.assembly);
    if (!assembly) return assembly.error();
    const journal::Task* there = known->task(words.title);
    journal::Task task = there != nullptr ? *there : journal::Task{{}, words.title, {}, {}, {}};
    if (*assembly) task.assembly = *assembly;
    if (!words.plan_sheet.empty()) task.plan_sheet = words.plan_sheet;
    if (!words.plan_step.empty()) task.plan_step = words.plan_step;
    if (Done related = set_relations(task, words, *known); !related) return related;
    if (there != nullptr) {
      if (Done updated = edit.update(task); !updated) return updated;
    } else {
      const auto added = edit.add(task);
      if (!added) return added.error();
      task.id = *added;
    }
    return plan(edit, *known, task.id, words.planned);
  });
}

Result<Counted> parse_counted(const std::string& text, std::string_view form) {
  const std::size_t at = text.rfind('=');
  if (at == std::string::npos) {
    return Error{Code::invalid,
                 "\"" + text + "\" is not of the form " + std::string{form} + ", for example MS20470AD4-5=12."};
  }
  const auto callout = handbook::parse_callout(text.substr(0, at));
  if (!callout) return callout.error();
  return Counted{callout->canonical(), std::string{trimmed(std::string_view{text}.substr(at + 1))}};
}

Result<int> parse_grip(std::string_view text) {
  std::string number{trimmed(text)};
  std::replace(number.begin(), number.end(), ',', '.');
  double inches = 0;
  const char* const end = number.data() + number.size();
  const auto read = std::from_chars(number.data(), end, inches, std::chars_format::fixed);
  const double millionths = std::round(inches * 1e6);
  if (read.ec != std::errc{} || read.ptr != end || !(millionths >= 1 && millionths <= journal::thickest_grip_uin)) {
    return Error{Code::invalid,
                 "The grip is the thickness of the whole stack in inches, above 0 and at most 4, for "
                 "example 0.064; \"" +
                     to_utf8(text) + "\" is not."};
  }
  return static_cast<int>(millionths);
}

std::optional<int> parse_count(std::string_view text) {
  if (text.empty() || text.size() > 5) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

}  // namespace jigtime::actions
