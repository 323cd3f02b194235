// People, hours, fasteners, what waits, inspections.
#include <algorithm>
#include <array>
#include <map>

#include "base/text.h"
#include "journal/fasteners.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/rounding.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Role;

constexpr std::array roles{Role::builder, Role::helper, Role::hired, Role::supplier};
using ByRole = std::array<Length, 4>;

Role role_of(const BookGround& ground, journal::PersonId id) {
  const journal::Person* person = ground.book.known.person(id);
  return person == nullptr ? Role::builder : person->role;
}

Length sum_of(const ByRole& hours) { return hours[0] + hours[1] + hours[2] + hours[3]; }

std::vector<Column> role_columns(std::vector<Column> columns, std::string last) {
  for (const Role role : roles) columns.push_back({std::string{to_text(role)}, Align::numbers});
  columns.push_back({std::move(last), Align::numbers});
  return columns;
}

/// Rows of lengths by role, each column rounded so that it adds up to its total; the total of a row is the sum of what
/// it shows.
struct RoleRows {
  std::vector<std::array<std::string, 5>> cells;
  std::array<std::string, 5> totals;
  std::vector<Length> shown;  ///< of each row, all roles
};

RoleRows rounded(const std::vector<ByRole>& rows, journal::Rounding rounding) {
  RoleRows made;
  made.cells.resize(rows.size());
  made.shown.resize(rows.size(), Length{0});
  Length all{0};
  for (std::size_t role = 0; role < roles.size(); ++role) {
    std::vector<Length> column;
    for (const ByRole& row : rows) column.push_back(row[role]);
    const std::vector<Length> shown = shown_lengths(column, rounding);
    Length sum{0};
    for (std::size_t i = 0; i < rows.size(); ++i) {
      made.cells[i][role] = rows[i][role] > Length{0} ? hours_words(shown[i], rounding) : "–";
      made.shown[i] += shown[i];
      sum += shown[i];
    }
    made.totals[role] = hours_words(sum, rounding);
    all += sum;
  }
  for (std::size_t i = 0; i < rows.size(); ++i) made.cells[i][4] = hours_words(made.shown[i], rounding);
  made.totals[4] = hours_words(all, rounding);
  return made;
}

void add_cells(Row& row, const std::array<std::string, 5>& cells) { row.insert(row.end(), cells.begin(), cells.end()); }

std::string month_of(std::chrono::year_month_day date) { return to_text(date).substr(0, 7); }

/// Months in order, from the first session of the build: what lies before the book is brought forward.
Table months_table(const BookGround& ground) {
  std::map<std::string, ByRole> months;
  ByRole forward{};
  for (const BookSession& session : ground.book.sessions) {
    const bool printed = ground.is_printed(session.record.session.date);
    ByRole& sum = printed ? months[month_of(session.record.session.date)] : forward;
    for (const journal::HoursRow& row : session.hours.rows) {
      sum[static_cast<std::size_t>(role_of(ground, row.person))] += row.worked;
    }
  }
  Table table{"Person-hours a month and their running total, rounded " +
                  std::string{rounding_words(ground.rounding())} + " so that they add up",
              role_columns({{"Month", Align::times}}, "all roles"),
              {},
              {},
              "No hours in these days."};
  table.columns.push_back({"Running total", Align::numbers});
  std::vector<ByRole> rows;
  std::vector<std::string> names;
  if (sum_of(forward) > Length{0}) {
    rows.push_back(forward);
    names.emplace_back("Brought forward");
  }
  for (const auto& [month, hours] : months) {
    rows.push_back(hours);
    names.push_back(month);
  }
  const RoleRows shown = rounded(rows, ground.rounding());
  Length running{0};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Row row{names[i]};
    add_cells(row, shown.cells[i]);
    running += shown.shown[i];
    row.push_back(hours_words(running, ground.rounding()));
    table.rows.push_back(std::move(row));
  }
  Row total{"Together"};
  add_cells(total, shown.totals);
  total.push_back(hours_words(running, ground.rounding()));
  table.totals.push_back(std::move(total));
  return table;
}

std::map<std::string, ByRole> hours_by_assembly(const BookGround& ground) {
  std::map<std::string, ByRole> sums;
  for (const BookSession& session : ground.book.sessions) {
    for (const journal::HoursRow& row : session.hours.rows) {
      std::string path = ground.assembly_path(row.task);
      sums[path][static_cast<std::size_t>(role_of(ground, row.person))] += row.worked;
      // What stands above it has a line too, for what is below it.
      for (std::size_t slash; (slash = path.rfind(" / ")) != std::string::npos;) {
        path.resize(slash);
        sums.try_emplace(path);
      }
    }
  }
  return sums;
}

Table assemblies_table(const BookGround& ground) {
  const std::map<std::string, ByRole> sums = hours_by_assembly(ground);
  Table table{
      "Person-hours an assembly, from the first session to the book's last day; what is below an assembly stands in "
      "lines of its own",
      role_columns({{"Assembly", Align::wide_words}}, "all roles"),
      {},
      {},
      "No hours were tagged."};
  table.columns.push_back({"with all below", Align::numbers});
  std::vector<ByRole> rows;
  for (const auto& [path, hours] : sums) rows.push_back(hours);
  const RoleRows shown = rounded(rows, ground.rounding());
  std::size_t i = 0;
  for (const auto& [path, hours] : sums) {
    Length with_below{0};
    std::size_t k = 0;
    for (const auto& [other, ignored] : sums) {
      if (other == path || (!path.empty() && other.starts_with(path + " / "))) with_below += shown.shown[k];
      ++k;
    }
    Row row{path.empty() ? "No assembly" : path};
    add_cells(row, shown.cells[i++]);
    row.push_back(hours_words(with_below, ground.rounding()));
    table.rows.push_back(std::move(row));
  }
  Row total{"Together"};
  add_cells(total, shown.totals);
  total.emplace_back();
  table.totals.push_back(std::move(total));
  return table;
}

Row balance_row(std::string where, const journal::FastenerBalance& row) {
  std::string verdict = row.planned == 0 ? "not planned" : "as planned";
  if (row.planned > 0 && row.left() > 0) verdict = std::to_string(row.left()) + " left";
  if (row.planned > 0 && row.over() > 0) verdict = std::to_string(row.over()) + " over";
  return {std::move(where),
          one_line(clean(row.callout)),
          row.planned == 0 ? "–" : std::to_string(row.planned),
          std::to_string(row.set),
          std::to_string(row.drilled),
          std::to_string(row.set - row.drilled),
          verdict};
}

std::string closing_words(const journal::OpenItem& item) {
  if (!item.closing) return "waits";
  std::string text = "closed " + to_text(item.closing->on);
  if (!item.closing->words.empty()) text += "\n" + clean(item.closing->words);
  return text;
}

}  // namespace

Blocks people_part(const BookGround& ground) {
  std::map<journal::PersonId, ByRole> worked;
  std::map<journal::PersonId, std::pair<std::string, std::string>> days;
  for (const BookSession& session : ground.book.sessions) {
    const std::string date = to_text(session.record.session.date);
    for (const journal::HoursRow& row : session.hours.rows) {
      worked[row.person][0] += row.worked;
      auto& [first, last] = days.try_emplace(row.person, date, date).first->second;
      first = std::min(first, date);
      last = std::max(last, date);
    }
  }
  Table table{"Who worked, from the first session to the book's last day",
              {{"Person", Align::wide_words},
               {"Role"},
               {"First session", Align::times},
               {"Last session", Align::times},
               {"Person-hours", Align::numbers}},
              {},
              {},
              "No span names a person at work."};
  std::vector<Length> lengths;
  for (const auto& [person, hours] : worked) lengths.push_back(hours[0]);
  const std::vector<Length> shown = shown_lengths(lengths, ground.rounding());
  std::size_t i = 0;
  Length all{0};
  for (const auto& [id, hours] : worked) {
    const journal::Person* person = ground.book.known.person(id);
    all += shown[i];
    table.rows.push_back({person == nullptr ? "somebody not in the register" : one_line(clean(person->name)),
                          person == nullptr ? "" : std::string{to_text(person->role)}, days[id].first, days[id].second,
                          hours_words(shown[i++], ground.rounding())});
  }
  table.totals.push_back({"Together", "", "", "", hours_words(all, ground.rounding())});
  Blocks blocks;
  blocks.push_back(Heading{1, "People and roles", "people"});
  blocks.push_back(std::move(table));
  blocks.push_back(Paragraph{
      "Builder: who builds. Helper: unpaid. Hired: paid help. Supplier: work done by the kit's maker.", Voice::small});
  return blocks;
}

Blocks hours_part(const BookGround& ground) {
  Blocks blocks;
  blocks.push_back(Heading{1, "Hours", "hours"});
  blocks.push_back(assemblies_table(ground));
  blocks.push_back(months_table(ground));
  blocks.push_back(
      Paragraph{"Each person's minute counts once, breaks out, however many cameras ran. Person-hours are the sum over "
                "people. Sums are kept exactly and rounded only here.",
                Voice::small});
  return blocks;
}

Blocks fasteners_part(const BookGround& ground) {
  std::vector<journal::Span> spans;
  for (const BookSession& session : ground.book.sessions) {
    for (const journal::Span& span : session.record.spans) {
      if (!span.fasteners.empty()) spans.push_back(span);
    }
  }
  const std::vector<Column> columns{
      {"", Align::wide_words}, {"Call-out", Align::times},      {"Planned", Align::numbers},
      {"Set", Align::numbers}, {"Drilled out", Align::numbers}, {"Standing", Align::numbers},
      {"Against the plan"}};
  Table by_task{"By task", columns, {}, {}, "No fastener was set and none is planned."};
  by_task.columns[0].title = "Task";
  for (const journal::FastenerBalance& row : journal::balance(ground.book.known, spans)) {
    by_task.rows.push_back(balance_row(ground.task_title(row.task), row));
  }
  Table by_place{"By assembly", columns, {}, {}, ""};
  by_place.columns[0].title = "Assembly";
  for (const journal::LocationBalance& row : journal::balance_by_location(ground.book.known, spans)) {
    const std::string path = one_line(clean(ground.book.known.assembly_path(row.assembly)));
    by_place.rows.push_back(balance_row(path.empty() ? "No assembly" : path, row.balance));
  }
  Blocks blocks;
  blocks.push_back(Heading{1, "Fasteners, planned against set", "fasteners"});
  blocks.push_back(std::move(by_task));
  blocks.push_back(std::move(by_place));
  return blocks;
}

Blocks items_part(const BookGround& ground) {
  const auto table_of = [&](std::string caption, bool waiting, std::string when_empty) {
    Table table{std::move(caption),
                {{"Opened", Align::times},
                 {"For"},
                 {"What", Align::wide_words},
                 {"Task", Align::wide_words},
                 {"State", Align::wide_words}},
                {},
                {},
                std::move(when_empty)};
    for (const journal::OpenItem& item : ground.book.items) {
      if (waiting == item.closing.has_value()) continue;
      if (!waiting && !ground.is_printed(item.closing->on)) continue;
      table.rows.push_back({to_text(item.opened_on), std::string{to_text(item.kind)}, clean(item.words),
                            item.task ? ground.task_title(item.task) : "", closing_words(item)});
    }
    return table;
  };
  Blocks blocks;
  blocks.push_back(Heading{1, "What waits", "items"});
  blocks.push_back(table_of("Open when this book was made", true, "Nothing waits."));
  blocks.push_back(table_of("Closed in these days", false, "Nothing was closed in these days."));
  return blocks;
}

Blocks inspections_part(const BookGround& ground) {
  Table table{"Looks at the work by people who know, as recorded by the builder",
              {{"Date", Align::times},
               {"Who", Align::wide_words},
               {"Looked at", Align::wide_words},
               {"Findings", Align::wide_words},
               {"Put right", Align::times}},
              {},
              {},
              "No inspection is recorded in these days."};
  for (const journal::Inspection& row : ground.book.inspections) {
    if (!ground.is_printed(row.date)) continue;
    std::string who = one_line(clean(row.person));
    if (!row.licence.empty()) who += "\n" + one_line(clean(row.licence));
    std::string what = clean(row.looked_at);
    if (!row.stage.empty()) what += "\n(" + one_line(clean(row.stage)) + ")";
    table.rows.push_back({to_text(row.date), who, what,
                          row.findings.empty() ? "nothing was found wrong" : clean(row.findings),
                          row.cleared_on         ? to_text(*row.cleared_on)
                          : row.findings.empty() ? ""
                                                 : "not yet"});
  }
  Blocks blocks;
  blocks.push_back(Heading{1, "Inspections", "inspections"});
  blocks.push_back(std::move(table));
  return blocks;
}

}  // namespace jigtime::report
