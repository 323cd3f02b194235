#include <iostream>

#include "actions/hours_out.h"
#include "base/text.h"
#include "cli/columns.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct HoursArguments {
  std::string journal;
  std::string by;
  std::string from;
  std::string to;
  bool csv = false;
  std::string append;
};

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json hours_json(const actions::HoursTable& table) {
  Json json{{"rows", Json::array()}};
  for (const actions::HoursLine& line : table.lines) {
    json["rows"].push_back({{"session", text_or_null(line.session)},
                            {"task", text_or_null(line.task)},
                            {"assembly", text_or_null(line.assembly)},
                            {"person", text_or_null(line.person)},
                            {"role", text_or_null(line.role)},
                            {"seconds", to_seconds(line.worked)}});
    if (!line.month.empty()) json["rows"].back()["month"] = line.month;
  }
  if (!table.with_parts.empty()) {
    json["with_parts"] = Json::array();
    for (const actions::AssemblyTotal& total : table.with_parts) {
      json["with_parts"].push_back({{"assembly", total.assembly}, {"seconds", to_seconds(total.worked)}});
    }
  }
  json["person_seconds"] = to_seconds(table.person_time);
  json["elapsed_seconds"] = to_seconds(table.elapsed);
  json["untagged_seconds"] = to_seconds(table.untagged);
  json["unfilmed_seconds"] = to_seconds(table.unfilmed);
  return json;
}

/// The table itself on stdout; with --json inside the document.
Exit print_csv(Terminal& terminal, const store::Store& store, const actions::HoursAsked& asked) {
  const auto csv = actions::hours_table_csv(store, asked);
  if (!csv) return terminal.fail(csv.error());
  if (!terminal.json()) std::cout << *csv << std::flush;
  terminal.print({{"csv", *csv}});
  return Exit::done;
}

Exit append_csv(Terminal& terminal, const store::Store& store, const std::string& file) {
  const auto appended = actions::append_sealed_hours(store, file);
  if (!appended) return terminal.refuse(appended.error());
  terminal.say("Sealed sessions added: " + std::to_string(appended->sessions) + " (" + std::to_string(appended->rows) +
               " rows). There already: " + std::to_string(appended->known_already) + ".");
  if (appended->sessions + appended->known_already + appended->waiting == 0) {
    terminal.say("No session has hours yet: the table has nothing but its first line.");
  }
  if (appended->waiting > 0) {
    terminal.say("Sessions with hours that are not sealed yet, and not in the table: " +
                 std::to_string(appended->waiting) + ".");
  }
  for (const int entry : appended->incomplete) {
    terminal.say("Of entry " + std::to_string(entry) +
                 " the table has fewer rows than the journal. Nothing was mended: take out what is left of it and "
                 "append again.");
  }
  for (const int entry : appended->differing) {
    terminal.say("Of entry " + std::to_string(entry) +
                 " the table has other hours than the journal: rows were changed or stand there twice, or two people "
                 "became one since. Nothing was mended: take out its rows and append again.");
  }
  terminal.print({{"file", shown(file)},
                  {"sessions", appended->sessions},
                  {"rows", appended->rows},
                  {"known_already", appended->known_already},
                  {"waiting", appended->waiting},
                  {"incomplete", appended->incomplete},
                  {"differing", appended->differing}});
  return appended->incomplete.empty() && appended->differing.empty() ? Exit::done : Exit::needs_builder;
}

Exit run_hours(Terminal& terminal, const HoursArguments& arguments) {
  actions::HoursAsked asked;
  if (!arguments.by.empty()) {
    const auto by = actions::parse_by(arguments.by);
    if (!by)
      return terminal.fail(
          {Code::invalid, "--by: \"" + arguments.by + "\" is none of task, assembly, person, role, session, month."});
    asked.by = *by;
  }
  for (auto [text, field] : {std::pair{&arguments.from, &asked.from}, std::pair{&arguments.to, &asked.to}}) {
    if (text->empty()) continue;
    const auto date = date_of(*text);
    if (!date) return terminal.fail(date.error());
    *field = *date;
  }
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (!arguments.append.empty()) return append_csv(terminal, *store, arguments.append);
  if (arguments.csv) return print_csv(terminal, *store, asked);
  const auto table = actions::tally_hours(*store, asked);
  if (!table) return terminal.fail(table.error());

  std::vector<std::vector<std::string>> rows{{"Session", "Month", "Assembly", "Task", "Person", "Role", "Hours"}};
  for (const actions::HoursLine& line : table->lines) {
    rows.push_back(
        {line.session, line.month, line.assembly, line.task, line.person, line.role, to_short_clock_text(line.shown)});
  }
  say_columns(terminal, rows);
  if (!table->with_parts.empty()) terminal.say("With everything below them:");
  for (const actions::AssemblyTotal& total : table->with_parts) {
    terminal.say("  " + to_short_clock_text(total.worked) + "  " + total.assembly);
  }
  terminal.say("Person-hours " + to_short_clock_text(table->person_time) + "   elapsed " +
               to_short_clock_text(table->elapsed) + "   of it unfilmed " + to_short_clock_text(table->unfilmed));
  terminal.say("Untagged footage (not counted) " + to_short_clock_text(table->untagged));
  terminal.print(hours_json(*table));
  return Exit::done;
}

}  // namespace

void add_tally_commands(Commands& commands) {
  auto& hours = commands.keep<HoursArguments>();
  CLI::App* app = commands.add("hours", "Hours, each person's minute once",
                               "jigtime hours elevator.jigtime --by task --from 2026-03-01\n"
                               "  jigtime hours elevator.jigtime --csv --from 2026-03-01\n"
                               "  jigtime hours elevator.jigtime --append hours-log.csv");
  app->add_option("JOURNAL", hours.journal, "The journal file")->required();
  app->add_option("--by", hours.by, "task, assembly, person, role, session or month");
  app->add_option("--from", hours.from, "First day, YYYY-MM-DD");
  app->add_option("--to", hours.to, "Last day, YYYY-MM-DD");
  auto* csv = app->add_flag("--csv", hours.csv, "Every session's rows as a table for other programs (RFC 4180)");
  auto* append = app->add_option("--append", hours.append,
                                 "Add what was sealed since to this running table; asking twice adds nothing twice");
  for (CLI::Option* other : {csv, app->get_option("--by"), app->get_option("--from"), app->get_option("--to")}) {
    append->excludes(other);
  }
  csv->excludes(app->get_option("--by"));
  commands.run(app, [&hours](Terminal& terminal) { return run_hours(terminal, hours); });
}

}  // namespace jigtime::cli
