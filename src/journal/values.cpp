#include "journal/values.h"

#include <algorithm>

#include "base/text.h"

namespace jigtime::journal {
namespace {

template <class Row, class RowId>
const Row* with_id(const std::vector<Row>& rows, RowId id) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.id == id; });
  return found == rows.end() ? nullptr : &*found;
}

const Assembly* child_named(const std::vector<Assembly>& assemblies, std::optional<AssemblyId> parent,
                            std::string_view name) {
  const auto found = std::find_if(assemblies.begin(), assemblies.end(), [&](const Assembly& assembly) {
    return assembly.parent == parent && assembly.name == name;
  });
  return found == assemblies.end() ? nullptr : &*found;
}

const Assembly* only_one_named(const std::vector<Assembly>& assemblies, std::string_view name) {
  const auto fits = [&](const Assembly& assembly) { return assembly.name == name; };
  const auto found = std::find_if(assemblies.begin(), assemblies.end(), fits);
  if (found == assemblies.end() || std::find_if(found + 1, assemblies.end(), fits) != assemblies.end()) return nullptr;
  return &*found;
}

/// The row itself, or the one it was merged into.
template <class Row>
const Row* meant_by(const std::vector<Row>& rows, const Row* row) {
  if (row == nullptr || !row->shelf.merged) return row;
  const Row* target = with_id(rows, *row->shelf.merged);
  return target == nullptr ? row : target;
}

template <class Row, class RowId>
RowId meant_id(const std::vector<Row>& rows, RowId id) {
  const Row* row = meant_by(rows, with_id(rows, id));
  return row == nullptr ? id : row->id;
}

}  // namespace

const Person* Register::person(PersonId id) const { return with_id(people, id); }
const Assembly* Register::assembly(AssemblyId id) const { return with_id(assemblies, id); }
const Task* Register::task(TaskId id) const { return with_id(tasks, id); }
const Camera* Register::camera(CameraId id) const { return with_id(cameras, id); }

const Person* Register::person(std::string_view name) const {
  const auto found = std::find_if(people.begin(), people.end(), [&](const Person& p) { return p.name == name; });
  return found == people.end() ? nullptr : meant_by(people, &*found);
}

const Task* Register::task(std::string_view title) const {
  const auto found = std::find_if(tasks.begin(), tasks.end(), [&](const Task& t) { return t.title == title; });
  return found == tasks.end() ? nullptr : meant_by(tasks, &*found);
}

const Camera* Register::camera(std::string_view name) const {
  const auto found = std::find_if(cameras.begin(), cameras.end(), [&](const Camera& c) { return c.name == name; });
  return found == cameras.end() ? nullptr : &*found;
}

const Checklist* Register::checklist(std::string_view name) const {
  const auto found =
      std::find_if(checklists.begin(), checklists.end(), [&](const Checklist& list) { return list.name == name; });
  return found == checklists.end() ? nullptr : &*found;
}

const ChecklistLine* Register::checklist_line(ChecklistLineId id) const {
  for (const Checklist& list : checklists) {
    if (const ChecklistLine* line = with_id(list.lines, id)) return line;
  }
  return nullptr;
}

PersonId Register::meant(PersonId id) const { return meant_id(people, id); }
AssemblyId Register::meant(AssemblyId id) const { return meant_id(assemblies, id); }
TaskId Register::meant(TaskId id) const { return meant_id(tasks, id); }

std::string Register::assembly_path(std::optional<AssemblyId> id) const {
  std::string path;
  // No path is longer than there are assemblies: a ring of parents in a damaged journal ends here too.
  for (std::size_t level = 0; id && level < assemblies.size(); ++level) {
    const Assembly* at = assembly(*id);
    if (at == nullptr) break;
    path = path.empty() ? at->name : at->name + " / " + path;
    id = at->parent;
  }
  return path;
}

const Assembly* Register::assembly(std::string_view path) const {
  const Assembly* at = nullptr;
  for (const std::string& level : split(path, '/')) {
    at = child_named(assemblies, at == nullptr ? std::nullopt : std::optional{at->id}, trimmed(level));
    if (at == nullptr) return meant_by(assemblies, only_one_named(assemblies, trimmed(path)));
  }
  return meant_by(assemblies, at);
}

const Clip* SessionRecord::clip(ClipId id) const { return with_id(clips, id); }

const Placement* SessionRecord::placement(ClipId id) const {
  const auto found =
      std::find_if(placements.begin(), placements.end(), [&](const Placement& row) { return row.clip == id; });
  return found == placements.end() ? nullptr : &*found;
}

std::string_view to_text(Role role) {
  switch (role) {
    case Role::builder: return "builder";
    case Role::helper: return "helper";
    case Role::hired: return "hired";
    case Role::supplier: return "supplier";
  }
  return "builder";
}

std::string_view to_text(Basis basis) {
  switch (basis) {
    case Basis::audio: return "audio";
    case Basis::clock: return "clock";
    case Basis::manual: return "manual";
    case Basis::none: return "none";
  }
  return "none";
}

std::string_view to_text(Method method) {
  switch (method) {
    case Method::driven: return "driven";
    case Method::squeezed: return "squeezed";
    case Method::pulled: return "pulled";
    case Method::other: return "other";
  }
  return "other";
}

std::string_view to_text(SpanKind kind) { return kind == SpanKind::work ? "work" : "break"; }

std::string_view to_text(ProposalKind kind) {
  switch (kind) {
    case ProposalKind::riveting: return "riveting";
    case ProposalKind::pause: return "break";
    case ProposalKind::signal: return "signal";
  }
  return "signal";
}

std::string_view to_text(Rounding rounding) {
  switch (rounding) {
    case Rounding::none: return "none";
    case Rounding::minute: return "minute";
    case Rounding::tenth_hour: return "0.1 h";
    case Rounding::quarter_hour: return "0.25 h";
  }
  return "none";
}

std::string_view to_text(ItemKind kind) {
  switch (kind) {
    case ItemKind::part: return "part";
    case ItemKind::tool: return "tool";
    case ItemKind::answer: return "answer";
    case ItemKind::inspection: return "inspection";
    case ItemKind::redo: return "redo";
  }
  return "part";
}

std::optional<ItemKind> parse_item_kind(std::string_view text) {
  for (const ItemKind kind : {ItemKind::part, ItemKind::tool, ItemKind::answer, ItemKind::inspection, ItemKind::redo}) {
    if (to_text(kind) == text) return kind;
  }
  return std::nullopt;
}

std::optional<Role> parse_role(std::string_view text) {
  for (const Role role : {Role::builder, Role::helper, Role::hired, Role::supplier}) {
    if (to_text(role) == text) return role;
  }
  return std::nullopt;
}

}  // namespace jigtime::journal
