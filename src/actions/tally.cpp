#include "actions/tally.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "base/text.h"

namespace jigtime::actions {
namespace {

HoursLine line_of(const journal::HoursRow& row, By by, const journal::Register& known,
                  const std::map<journal::SessionId, std::string>& dates) {
  HoursLine line;
  line.worked = row.worked;
  line.unfilmed = row.unfilmed;
  const journal::Task* task = row.task ? known.task(*row.task) : nullptr;
  const journal::Person* person = known.person(row.person);
  const bool all = by == By::everything;
  if (all || by == By::session) line.session = dates.at(row.session);
  if (task != nullptr) {
    if (all || by == By::task) line.task = task->title;
    if (all || by == By::task || by == By::assembly) line.assembly = known.assembly_path(task->assembly);
  }
  if (person != nullptr) {
    if (all || by == By::person) line.person = person->name;
    if (all || by == By::person || by == By::role) line.role = to_text(person->role);
  }
  return line;
}

auto key_of(const HoursLine& line) { return std::tie(line.session, line.assembly, line.task, line.role, line.person); }

void fold(std::vector<HoursLine>& lines) {
  std::stable_sort(lines.begin(), lines.end(),
                   [](const HoursLine& a, const HoursLine& b) { return key_of(a) < key_of(b); });
  std::vector<HoursLine> folded;
  for (HoursLine& line : lines) {
    if (!folded.empty() && key_of(folded.back()) == key_of(line)) {
      folded.back().worked += line.worked;
      folded.back().unfilmed += line.unfilmed;
    } else {
      folded.push_back(std::move(line));
    }
  }
  lines = std::move(folded);
}

}  // namespace

std::optional<By> parse_by(std::string_view text) {
  if (text == "task") return By::task;
  if (text == "assembly") return By::assembly;
  if (text == "person") return By::person;
  if (text == "role") return By::role;
  if (text == "session") return By::session;
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
  if (asked.from && asked.to && *asked.to < *asked.from) {
    return Error{Code::invalid, "The last day (" + to_text(*asked.to) + ") lies before the first (" +
                                    to_text(*asked.from) + "). Swap --from and --to."};
  }
  const auto known = store.known();
  if (!known) return known.error();
  const auto build = store.build();
  if (!build) return build.error();
  const auto records = records_between(store, asked.from, asked.to);
  if (!records) return records.error();

  std::vector<journal::Hours> parts;
  std::map<journal::SessionId, std::string> dates;
  for (const journal::SessionRecord& record : *records) {
    parts.push_back(journal::count_hours(record));
    dates[record.session.id] = to_text(record.session.date);
  }
  const journal::Hours hours = journal::sum(parts);
  HoursTable table;
  table.person_time = hours.person_time;
  table.elapsed = hours.elapsed;
  table.untagged = hours.untagged;
  table.unfilmed = hours.unfilmed;
  table.rounding = build->rounding;
  for (const journal::HoursRow& row : hours.rows) table.lines.push_back(line_of(row, asked.by, *known, dates));
  fold(table.lines);

  std::vector<Length> worked;
  for (const HoursLine& line : table.lines) worked.push_back(line.worked);
  const std::vector<Length> shown = journal::rounded_to_add_up(worked, table.rounding);
  for (std::size_t i = 0; i < shown.size(); ++i) table.lines[i].shown = shown[i];
  return table;
}

}  // namespace jigtime::actions
