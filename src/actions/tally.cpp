#include "actions/tally.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_map>

#include "actions/parallel.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

struct Worked {
  Length worked{0};
  Length unfilmed{0};
};

/// What one line stands for; what `by` folds together is empty. Ordered and added up before any name is looked up.
struct Key {
  std::optional<std::chrono::sys_days> day;  ///< of the session, or the first of the month
  std::optional<journal::AssemblyId> assembly;
  std::optional<journal::TaskId> task;
  std::optional<journal::Role> role;
  std::optional<journal::PersonId> person;
  friend auto operator<=>(const Key&, const Key&) = default;
};

/// Tasks and people by their ids, in one step each.
struct Lookup {
  explicit Lookup(const journal::Register& known) {
    for (const journal::Task& task : known.tasks) tasks[task.id] = &task;
    for (const journal::Person& person : known.people) people[person.id] = &person;
    for (const journal::Task& task : known.tasks) merged = merged || task.shelf.merged;
    for (const journal::Person& person : known.people) merged = merged || person.shelf.merged;
  }
  std::unordered_map<journal::TaskId, const journal::Task*> tasks;
  std::unordered_map<journal::PersonId, const journal::Person*> people;
  bool merged = false;  ///< anything at all
};

std::chrono::sys_days first_of_month(std::chrono::year_month_day date) {
  return date.year() / date.month() / std::chrono::day{1};
}

/// What rows are added up by before any name is looked up: a journal of many years has tens of thousands of them.
struct Cell {
  std::chrono::sys_days day{};  ///< these three stay as they are where `by` folds them together
  std::optional<journal::TaskId> task{};
  journal::PersonId person{};
  friend bool operator==(const Cell&, const Cell&) = default;
};

struct CellHash {
  std::size_t operator()(const Cell& cell) const noexcept {
    const auto task = static_cast<std::uint64_t>(cell.task ? cell.task->value : -1);
    const auto person = static_cast<std::uint64_t>(cell.person.value);
    const auto day = static_cast<std::uint64_t>(cell.day.time_since_epoch().count());
    // Large odd numbers spread small ones over all bits.
    return (task * 0x9E3779B97F4A7C15U) ^ (person * 0xC2B2AE3D27D4EB4FU) ^ (day * 0x165667B19E3779F9U);
  }
};

using Cells = std::unordered_map<Cell, Worked, CellHash>;

Cell cell_of(const journal::HoursRow& row, By by, std::chrono::year_month_day date) {
  Cell cell;
  if (by == By::everything || by == By::session) cell.day = date;
  if (by == By::month) cell.day = first_of_month(date);
  if (by == By::everything || by == By::task || by == By::assembly) cell.task = row.task;
  if (by == By::everything || by == By::person || by == By::role) cell.person = row.person;
  return cell;
}

Key key_of(const Cell& cell, By by, const Lookup& lookup) {
  Key key;
  if (by == By::everything || by == By::session || by == By::month) key.day = cell.day;
  if (const auto task = cell.task ? lookup.tasks.find(*cell.task) : lookup.tasks.end(); task != lookup.tasks.end()) {
    if (by != By::assembly) key.task = cell.task;
    key.assembly = task->second->assembly;
  }
  if (const auto person = lookup.people.find(cell.person); person != lookup.people.end()) {
    if (by != By::role) key.person = cell.person;
    key.role = person->second->role;
  }
  return key;
}

std::map<Key, Worked> by_name(const Cells& cells, By by, const Lookup& lookup) {
  std::map<Key, Worked> sums;
  for (const auto& [cell, worked] : cells) {
    Worked& sum = sums[key_of(cell, by, lookup)];
    sum.worked += worked.worked;
    sum.unfilmed += worked.unfilmed;
  }
  return sums;
}

HoursLine line_of(const Key& key, const Worked& worked, By by, const journal::Register& known) {
  HoursLine line;
  if (key.day) {
    const std::string date = to_text(std::chrono::year_month_day{*key.day});
    (by == By::month ? line.month : line.session) = by == By::month ? date.substr(0, 7) : date;
  }
  line.assembly = known.assembly_path(key.assembly);
  if (key.task) line.task = known.task(*key.task)->title;
  if (key.role) line.role = to_text(*key.role);
  if (key.person) line.person = known.person(*key.person)->name;
  line.worked = worked.worked;
  line.unfilmed = worked.unfilmed;
  return line;
}

auto order_of(const HoursLine& line) {
  return std::tie(line.session, line.month, line.assembly, line.task, line.role, line.person);
}

/// Ranges name what their people and tasks were merged into, so that nobody's minute counts twice.
void name_what_is_meant(journal::WorkingDay& day, const journal::Register& known) {
  for (journal::TaggedRange& range : day.ranges) {
    if (range.task) range.task = known.meant(*range.task);
  }
  for (journal::PersonId& person : day.people) person = known.meant(person);
}

/// Every assembly's time goes to all that stand above it too.
std::vector<AssemblyTotal> totals_with_parts(const std::map<Key, Worked>& sums, const journal::Register& known) {
  std::map<std::string, Worked> totals;
  for (const auto& [key, worked] : sums) {
    std::string path = known.assembly_path(key.assembly);
    while (!path.empty()) {
      totals[path].worked += worked.worked;
      totals[path].unfilmed += worked.unfilmed;
      const std::size_t slash = path.rfind(" / ");
      path = slash == std::string::npos ? std::string{} : path.substr(0, slash);
    }
  }
  std::vector<AssemblyTotal> lines;
  for (const auto& [path, worked] : totals) lines.push_back({path, worked.worked, worked.unfilmed});
  return lines;
}

/// Each day by itself; many days by two at a time.
std::vector<journal::Hours> count_all(const std::vector<journal::WorkingDay>& days) {
  constexpr int many = 50;
  std::vector<journal::Hours> hours(days.size());
  const int count = static_cast<int>(days.size());
  for_each_index(count, count < many ? 1 : 2, {}, [&](int index) {
    const auto i = static_cast<std::size_t>(index);
    hours[i] = journal::count_hours(days[i]);
  });
  return hours;
}

void round_lines(HoursTable& table) {
  std::vector<Length> worked;
  for (const HoursLine& line : table.lines) worked.push_back(line.worked);
  const std::vector<Length> shown = journal::rounded_to_add_up(worked, table.rounding);
  for (std::size_t i = 0; i < shown.size(); ++i) table.lines[i].shown = shown[i];
}

}  // namespace

void name_what_is_meant(journal::SessionRecord& record, const journal::Register& known) {
  for (journal::Span& span : record.spans) {
    if (span.task) span.task = known.meant(*span.task);
    for (journal::PersonId& person : span.people) person = known.meant(person);
  }
}

Done check_asked(const HoursAsked& asked) {
  if (!asked.from || !asked.to || *asked.to >= *asked.from) return {};
  return Error{Code::invalid, "The last day (" + to_text(*asked.to) + ") lies before the first (" +
                                  to_text(*asked.from) + "). Swap --from and --to."};
}

std::optional<By> parse_by(std::string_view text) {
  if (text == "task") return By::task;
  if (text == "assembly") return By::assembly;
  if (text == "person") return By::person;
  if (text == "role") return By::role;
  if (text == "session") return By::session;
  if (text == "month") return By::month;
  return std::nullopt;
}

Result<std::vector<journal::SessionRecord>> records_between(const store::Store& store,
                                                            std::optional<std::chrono::year_month_day> from,
                                                            std::optional<std::chrono::year_month_day> to) {
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  std::vector<journal::SessionRecord> records;
  for (const journal::Session& session : *sessions) {
    if ((from && session.date < *from) || (to && session.date > *to)) continue;
    auto record = store.record(session.id);
    if (!record) return record.error();
    records.push_back(std::move(*record));
  }
  return records;
}

Result<HoursTable> tally_hours(const store::Store& store, const HoursAsked& asked) {
  if (Done checked = check_asked(asked); !checked) return checked.error();
  const auto known = store.known();
  if (!known) return known.error();
  const auto build = store.build();
  if (!build) return build.error();
  auto days = store.working_days();
  if (!days) return days.error();

  const Lookup lookup{*known};
  HoursTable table;
  table.rounding = build->rounding;
  Cells cells;
  std::erase_if(*days, [&](const journal::WorkingDay& day) {
    return (asked.from && day.date < *asked.from) || (asked.to && day.date > *asked.to);
  });
  if (lookup.merged) {
    for (journal::WorkingDay& day : *days) name_what_is_meant(day, *known);
  }
  const std::vector<journal::Hours> counted = count_all(*days);
  for (std::size_t i = 0; i < days->size(); ++i) {
    const journal::WorkingDay& day = (*days)[i];
    const journal::Hours& hours = counted[i];
    table.person_time += hours.person_time;
    table.elapsed += hours.elapsed;
    table.untagged += hours.untagged;
    table.unfilmed += hours.unfilmed;
    for (const journal::HoursRow& row : hours.rows) {
      Worked& sum = cells[cell_of(row, asked.by, day.date)];
      sum.worked += row.worked;
      sum.unfilmed += row.unfilmed;
    }
  }
  const std::map<Key, Worked> sums = by_name(cells, asked.by, lookup);
  for (const auto& [key, worked] : sums) table.lines.push_back(line_of(key, worked, asked.by, *known));
  std::stable_sort(table.lines.begin(), table.lines.end(),
                   [](const HoursLine& a, const HoursLine& b) { return order_of(a) < order_of(b); });
  if (asked.by == By::assembly) table.with_parts = totals_with_parts(sums, *known);
  round_lines(table);
  return table;
}

}  // namespace jigtime::actions
