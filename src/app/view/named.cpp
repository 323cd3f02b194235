#include "app/view/named.h"

#include <algorithm>

#include "base/text.h"

namespace jigtime::app {
namespace {

template <class Rows, class LineOf>
std::vector<NamedLine> lines_of(const Rows& rows, LineOf line_of) {
  std::vector<NamedLine> lines;
  for (const auto& row : rows) {
    if (row.shelf.merged) continue;
    lines.push_back(line_of(row));
    lines.back().away = row.shelf.archived;
  }
  std::stable_partition(lines.begin(), lines.end(), [](const NamedLine& line) { return !line.away; });
  return lines;
}

}  // namespace

std::vector<NamedLine> named_lines(const journal::Register& known, actions::Shelved what) {
  switch (what) {
    case actions::Shelved::person:
      return lines_of(known.people, [](const journal::Person& person) {
        return NamedLine{person.name, person.name, std::string{to_text(person.role)}};
      });
    case actions::Shelved::assembly:
      return lines_of(known.assemblies, [&](const journal::Assembly& assembly) {
        return NamedLine{known.assembly_path(assembly.id), assembly.name, {}};
      });
    case actions::Shelved::task:
      return lines_of(known.tasks, [&](const journal::Task& task) {
        return NamedLine{task.title, task.title, known.assembly_path(task.assembly)};
      });
  }
  return {};
}

Renaming renaming(const std::vector<NamedLine>& lines, const NamedLine& line, std::string_view typed) {
  const std::string to{trimmed(typed)};
  if (to.empty() || to == line.last) return {};
  const std::string whole = line.name.substr(0, line.name.size() - line.last.size()) + to;
  const bool there =
      std::any_of(lines.begin(), lines.end(), [&](const NamedLine& other) { return other.name == whole; });
  if (there) return {Renaming::Means::merge, whole};
  return {Renaming::Means::rename, to};
}

}  // namespace jigtime::app
