#include <algorithm>

#include "actions/explain.h"
#include "actions/tally.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct HoursArguments {
  std::string journal;
  std::string by;
  std::string from;
  std::string to;
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
  }
  json["person_seconds"] = to_seconds(table.person_time);
  json["elapsed_seconds"] = to_seconds(table.elapsed);
  json["untagged_seconds"] = to_seconds(table.untagged);
  json["unfilmed_seconds"] = to_seconds(table.unfilmed);
  return json;
}

/// Columns as wide as their widest cell; columns without any text are left out.
void say_columns(Terminal& terminal, const std::vector<std::vector<std::string>>& rows) {
  if (rows.empty()) return;
  std::vector<std::size_t> widths(rows.front().size(), 0);
  const auto letters = [](const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
  };
  for (std::size_t i = 1; i < rows.size(); ++i) {
    for (std::size_t k = 0; k < widths.size(); ++k) widths[k] = std::max(widths[k], letters(rows[i][k]));
  }
  for (std::size_t k = 0; k < widths.size(); ++k) {
    if (widths[k] > 0) widths[k] = std::max(widths[k], letters(rows.front()[k]));
  }
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t k = 0; k < widths.size(); ++k) {
      if (widths[k] > 0) line += row[k] + std::string(widths[k] - std::min(widths[k], letters(row[k])) + 2, ' ');
    }
    terminal.say(line.substr(0, line.find_last_not_of(' ') + 1));
  }
}

Exit run_hours(Terminal& terminal, const HoursArguments& arguments) {
  actions::HoursAsked asked;
  if (!arguments.by.empty()) {
    const auto by = actions::parse_by(arguments.by);
    if (!by)
      return terminal.fail(
          {Code::invalid, "--by: \"" + arguments.by + "\" is none of task, assembly, person, role, session."});
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
  const auto table = actions::tally_hours(*store, asked);
  if (!table) return terminal.fail(table.error());

  std::vector<std::vector<std::string>> rows{{"Session", "Assembly", "Task", "Person", "Role", "Hours"}};
  for (const actions::HoursLine& line : table->lines) {
    rows.push_back({line.session, line.assembly, line.task, line.person, line.role, to_short_clock_text(line.shown)});
  }
  say_columns(terminal, rows);
  terminal.say("Person-hours " + to_short_clock_text(table->person_time) + "   elapsed " +
               to_short_clock_text(table->elapsed) + "   of it unfilmed " + to_short_clock_text(table->unfilmed));
  terminal.say("Untagged footage (not counted) " + to_short_clock_text(table->untagged));
  terminal.print(hours_json(*table));
  return Exit::done;
}

Exit run_rivets(Terminal& terminal, const std::string& journal) {
  const auto store = open_journal(journal);
  if (!store) return terminal.fail(store.error());
  const auto table = actions::tally_rivets(*store);
  if (!table) return terminal.fail(table.error());
  Json json{{"rows", Json::array()}, {"warnings", Json::array()}};
  std::vector<std::vector<std::string>> rows{{"Task", "Call-out", "Planned", "Set", "Drilled out", "Left", "Over"}};
  for (const auto& [task, balance] : table->lines) {
    json["rows"].push_back({{"task", task},
                            {"callout", balance.callout},
                            {"planned", balance.planned},
                            {"set", balance.set},
                            {"drilled", balance.drilled},
                            {"left", balance.left()},
                            {"over", balance.over()}});
    rows.push_back({task, balance.callout, std::to_string(balance.planned), std::to_string(balance.set),
                    std::to_string(balance.drilled), std::to_string(balance.left()), std::to_string(balance.over())});
  }
  if (table->lines.empty()) {
    terminal.say("No fastener is planned or set yet.");
  } else {
    say_columns(terminal, rows);
  }
  for (const std::string& warning : table->warnings) {
    json["warnings"].push_back(warning);
    terminal.say(warning);
  }
  terminal.say("The plans and the kit's instructions decide; this table only counts.");
  terminal.print(json);
  return Exit::done;
}

struct CalloutArguments {
  std::string text;
  double grip_in = 0;
};

Exit run_callout(Terminal& terminal, const CalloutArguments& arguments, bool with_grip) {
  const auto explained =
      actions::explain_callout(arguments.text, with_grip ? std::optional{arguments.grip_in} : std::nullopt);
  if (!explained) return terminal.fail(explained.error());
  Json json{{"callout", explained->canonical}, {"kind", explained->kind}, {"diameter_in", explained->diameter_in}};
  json["length_in"] = explained->length_in > 0 ? Json(explained->length_in) : Json(nullptr);
  json["sentences"] = explained->sentences;
  json["grip"] = explained->grip;
  json["caution"] = explained->caution;
  terminal.say(explained->canonical);
  for (const std::string& sentence : explained->sentences) terminal.say("  " + sentence);
  for (const std::string& sentence : explained->grip) terminal.say("  " + sentence);
  terminal.say(explained->caution);
  terminal.print(json);
  return Exit::done;
}

}  // namespace

void add_tally_commands(Commands& commands) {
  auto& hours = commands.keep<HoursArguments>();
  CLI::App* app = commands.add("hours", "Hours, each person's minute once",
                               "jigtime hours elevator.jigtime --by task --from 2026-03-01");
  app->add_option("JOURNAL", hours.journal, "The journal file")->required();
  app->add_option("--by", hours.by, "task, assembly, person, role or session");
  app->add_option("--from", hours.from, "First day, YYYY-MM-DD");
  app->add_option("--to", hours.to, "Last day, YYYY-MM-DD");
  commands.run(app, [&hours](Terminal& terminal) { return run_hours(terminal, hours); });

  auto& rivets = commands.keep<std::string>();
  app = commands.add("rivets", "Fasteners: planned against set", "jigtime rivets elevator.jigtime");
  app->add_option("JOURNAL", rivets, "The journal file")->required();
  commands.run(app, [&rivets](Terminal& terminal) { return run_rivets(terminal, rivets); });

  auto& callout = commands.keep<CalloutArguments>();
  app = commands.add("callout", "Explain a fastener's call-out", "jigtime callout MS20426AD3-4.5 --grip 0.064");
  app->add_option("TEXT", callout.text, "The call-out, e.g. MS20470AD4-5")->required();
  CLI::Option* grip = app->add_option("--grip", callout.grip_in, "Whole stack in inches");
  commands.run(app, [&callout, grip](Terminal& terminal) { return run_callout(terminal, callout, grip->count() > 0); });
}

}  // namespace jigtime::cli
