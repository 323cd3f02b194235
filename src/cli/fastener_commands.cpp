#include "actions/explain.h"
#include "actions/rivets.h"
#include "actions/shop.h"
#include "base/text.h"
#include "cli/columns.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct RivetsArguments {
  std::string journal;
  std::string by;
  std::vector<std::string> grips;
};

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json methods_json(const journal::FastenerBalance& balance) {
  Json json = Json::object();
  for (std::size_t i = 0; i < balance.set_by.size(); ++i) {
    if (balance.set_by[i] > 0) json[std::string{to_text(static_cast<journal::Method>(i))}] = balance.set_by[i];
  }
  return json;
}

/// "0.064 in"; more decimals only where they say something.
std::string grip_text(std::optional<int> grip_uin) {
  if (!grip_uin) return "-";
  const int decimals = *grip_uin % 1000 == 0 ? 3 : *grip_uin % 100 == 0 ? 4 : 6;
  return to_decimal_text(*grip_uin / 1e6, decimals) + " in";
}

void tell(Terminal& terminal, const actions::RivetTable& table) {
  Json json{{"rows", Json::array()}, {"warnings", Json::array()}};
  std::vector<std::vector<std::string>> rows{
      {"Location", "Task", "Call-out", "Grip", "Planned", "Set", "Drilled out", "Left", "Over"}};
  for (const auto& [task, location, balance] : table.lines) {
    json["rows"].push_back({{"task", text_or_null(task)},
                            {"location", text_or_null(location)},
                            {"callout", balance.callout},
                            {"grip_in", balance.grip_uin ? Json(*balance.grip_uin / 1e6) : Json(nullptr)},
                            {"planned", balance.planned},
                            {"set", balance.set},
                            {"set_by", methods_json(balance)},
                            {"drilled", balance.drilled},
                            {"left", balance.left()},
                            {"over", balance.over()}});
    rows.push_back({location, task, balance.callout, grip_text(balance.grip_uin), std::to_string(balance.planned),
                    std::to_string(balance.set), std::to_string(balance.drilled), std::to_string(balance.left()),
                    std::to_string(balance.over())});
  }
  if (table.lines.empty()) {
    terminal.say("No fastener is planned or set yet.");
  } else {
    say_columns(terminal, rows);
  }
  for (const std::string& warning : table.warnings) {
    json["warnings"].push_back(warning);
    terminal.say(warning);
  }
  terminal.say("The plans and the kit's instructions decide; this table only counts.");
  terminal.print(json);
}

Exit run_rivets(Terminal& terminal, const RivetsArguments& arguments) {
  actions::RivetsAsked asked;
  if (arguments.by == "location") {
    asked.by = actions::RivetsBy::location;
  } else if (!arguments.by.empty() && arguments.by != "task") {
    return terminal.fail({Code::invalid, "--by: \"" + arguments.by + "\" is neither task nor location."});
  }
  for (const std::string& text : arguments.grips) {
    auto grip = actions::parse_stated_grip(text);
    if (!grip) return terminal.fail(grip.error());
    asked.grips.push_back(std::move(*grip));
  }
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto table = actions::tally_rivets(*store, asked);
  if (!table) return terminal.fail(table.error());
  tell(terminal, *table);
  return Exit::done;
}

struct CalloutArguments {
  std::string text;
  std::string grip;
  double sheet_in = 0;
  bool rules = false;
};

Exit run_callout(Terminal& terminal, const CalloutArguments& arguments, bool with_grip, bool with_sheet) {
  std::optional<double> grip_in;
  if (with_grip) {
    const auto grip = actions::parse_grip(arguments.grip);
    if (!grip) return terminal.fail(grip.error().during("--grip"));
    grip_in = *grip / 1e6;
  }
  const auto explained = actions::explain_callout(arguments.text, grip_in);
  if (!explained) return terminal.fail(explained.error());
  const auto sheet = with_sheet ? actions::explain_sheet(arguments.sheet_in)
                                : Result<std::vector<std::string>>{std::vector<std::string>{}};
  if (!sheet) return terminal.fail(sheet.error());
  Json json{{"callout", explained->canonical}, {"kind", explained->kind}, {"diameter_in", explained->diameter_in}};
  json["length_in"] = explained->length_in > 0 ? Json(explained->length_in) : Json(nullptr);
  json["sentences"] = explained->sentences;
  json["grip"] = explained->grip;
  json["rules"] = explained->rules;
  json["caution"] = explained->caution;
  json["sheet"] = Json::array();
  terminal.say(explained->canonical);
  for (const std::string& sentence : explained->sentences) terminal.say("  " + sentence);
  for (const std::string& sentence : explained->grip) terminal.say("  " + sentence);
  for (const std::string& sentence : *sheet) {
    json["sheet"].push_back(sentence);
    terminal.say("  " + sentence);
  }
  if (arguments.rules) {
    terminal.say("Published rules, which differ; none is chosen:");
    for (const std::string& sentence : explained->rules) terminal.say("  " + sentence);
  }
  terminal.say(explained->caution);
  terminal.print(json);
  return Exit::done;
}

struct NoiseArguments {
  double level_dba = 0;
  double hours = 0;
};

Exit run_noise(Terminal& terminal, const NoiseArguments& arguments, bool with_hours) {
  const auto told =
      actions::explain_noise(arguments.level_dba, with_hours ? std::optional{arguments.hours} : std::nullopt);
  if (!told) return terminal.fail(told.error());
  Json json{{"level_dba", told->level_dba}, {"rules", Json::array()}};
  for (const auto& rule : told->rules) {
    json["rules"].push_back({{"rule", rule.rule}, {"hours", rule.hours}, {"source", rule.source}});
    terminal.say(rule.rule + ": " + to_decimal_text(rule.hours, 2) + " h (" + rule.source + ").");
  }
  json["dose_percent"] = told->dose_percent ? Json(*told->dose_percent) : Json(nullptr);
  json["sentences"] = told->sentences;
  for (const std::string& sentence : told->sentences) terminal.say(sentence);
  terminal.print(json);
  return Exit::done;
}

}  // namespace

void add_fastener_commands(Commands& commands) {
  auto& rivets = commands.keep<RivetsArguments>();
  CLI::App* app = commands.add("rivets", "Fasteners: planned against set",
                               "jigtime rivets elevator.jigtime --grip \"Rivet skin to ribs=0.064\"");
  app->add_option("JOURNAL", rivets.journal, "The journal file")->required();
  app->add_option("--by", rivets.by, "task (as when left out) or location");
  app->add_option(
         "--grip", rivets.grips,
         "TASK=INCHES, the whole stack there, in place of the planned lines' own: lengths that no published rule "
         "gives are told; may be repeated")
      ->take_all()
      ->expected(1);
  commands.run(app, [&rivets](Terminal& terminal) { return run_rivets(terminal, rivets); });

  auto& callout = commands.keep<CalloutArguments>();
  app = commands.add("callout", "Explain a fastener's call-out", "jigtime callout MS20426AD3-4.5 --grip 0.064 --rules");
  app->add_option("TEXT", callout.text, "The call-out, e.g. MS20470AD4-5")->required();
  CLI::Option* grip = app->add_option("--grip", callout.grip, "Whole stack in inches, e.g. 0.064");
  CLI::Option* sheet = app->add_option("--sheet", callout.sheet_in, "Thickest sheet in inches");
  app->add_flag("--rules", callout.rules, "Holes, heads, edge distance and pitch too, each with its source");
  commands.run(app, [&callout, grip, sheet](Terminal& terminal) {
    return run_callout(terminal, callout, grip->count() > 0, sheet->count() > 0);
  });

  auto& noise = commands.keep<NoiseArguments>();
  app = commands.add("noise", "How long published rules allow a level of noise", "jigtime noise 97 --hours 1.5");
  app->add_option("DBA", noise.level_dba, "The level, read from a sound level meter")->required();
  CLI::Option* hours = app->add_option("--hours", noise.hours, "How long in the day");
  commands.run(app, [&noise, hours](Terminal& terminal) { return run_noise(terminal, noise, hours->count() > 0); });
}

}  // namespace jigtime::cli
