#include "actions/checklists.h"
#include "actions/regimes.h"
#include "base/text.h"
#include "cli/columns.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct ChecklistArguments {
  std::string journal;
  std::string list;
  std::string use;
  std::string file;
  std::vector<std::string> splits;
  std::vector<std::string> left_out;
  std::vector<std::string> carried;
  bool shipped = false;
  bool as_text = false;
};

Result<std::vector<actions::RowWords>> rows_of(const std::vector<std::string>& texts, const std::string& form) {
  std::vector<actions::RowWords> rows;
  for (const std::string& text : texts) {
    const std::size_t at = text.find('=');
    const std::string number{trimmed(std::string_view{text}.substr(0, at))};
    if (at == std::string::npos || number.empty()) {
      return Error{Code::invalid, "\"" + text + "\" is not of the form " + form + "."};
    }
    rows.push_back({number, std::string{trimmed(std::string_view{text}.substr(at + 1))}});
  }
  return rows;
}

Json row_json(const actions::ChecklistView::Row& row) {
  return {{"number", row.line.number},      {"title", row.line.title},   {"section", row.line.section},
          {"applies", row.line.applicable}, {"tenths", row.line.tenths}, {"tasks", row.tasks}};
}

Json sum_json(const handbook::ChecklistSum& sum) {
  return {{"maker", sum.columns[0]},
          {"paid_help", sum.columns[1]},
          {"builder_assembly", sum.columns[2]},
          {"builder_fabrication", sum.columns[3]},
          {"tenths", sum.total()},
          {"rows", sum.rows},
          {"left_out", sum.left_out},
          {"builder_percent", sum.percent(sum.builder())}};
}

void say_sum(Terminal& terminal, const handbook::ChecklistSum& sum) {
  for (std::size_t i = 0; i < sum.columns.size(); ++i) {
    terminal.say(std::string{handbook::column_names[i]} + ": " + std::to_string(sum.columns[i]) + " tenths, " +
                 to_decimal_text(sum.percent(sum.columns[i]), 1) + " %");
  }
  terminal.say(std::to_string(sum.rows) + " rows apply, " + std::to_string(sum.left_out) + " do not.");
}

void tell(Terminal& terminal, const actions::ChecklistView& view) {
  Json json{{"name", view.name},
            {"title", view.title},
            {"source", view.source},
            {"official", view.official},
            {"rows", Json::array()}};
  terminal.say(view.title);
  terminal.say(view.source);
  std::vector<std::vector<std::string>> rows{{"Row", "Maker", "Paid", "Assembly", "Fabrication", "What", "Tasks"}};
  for (const actions::ChecklistView::Row& row : view.rows) {
    json["rows"].push_back(row_json(row));
    std::vector<std::string> cells{row.line.number};
    for (const int tenths : row.line.tenths) cells.push_back(row.line.applicable ? std::to_string(tenths) : "N/A");
    cells.push_back((row.line.section.empty() ? "" : row.line.section + ": ") + row.line.title);
    cells.push_back(listed(row.tasks));
    rows.push_back(std::move(cells));
  }
  say_columns(terminal, rows);
  json["sum"] = sum_json(view.sum);
  say_sum(terminal, view.sum);
  json["sentences"] = view.sentences;
  for (const std::string& sentence : view.sentences) terminal.say(sentence);
  json["caution"] = view.caution;
  terminal.say(view.caution);
  terminal.print(json);
}

Exit tell_shipped(Terminal& terminal) {
  Json json{{"shipped", Json::array()}};
  for (const actions::ShippedList& list : actions::shipped_lists()) {
    json["shipped"].push_back({{"name", list.name}, {"title", list.title}});
    terminal.say(list.name + "  " + list.title);
  }
  terminal.print(json);
  return Exit::done;
}

Result<actions::ChecklistChange> change_of(const ChecklistArguments& arguments) {
  actions::ChecklistChange change{arguments.list, arguments.use, {}, {}, arguments.left_out, {}};
  if (!arguments.file.empty()) change.file = arguments.file;
  auto split = rows_of(arguments.splits, "NUMBER=A,B,C,D, for example 3.1=5,3,0,2");
  if (!split) return split.error();
  change.split = std::move(*split);
  auto carried = rows_of(arguments.carried, "NUMBER=TASK, for example \"3.6=Rivet skin to ribs\"");
  if (!carried) return carried.error();
  change.carried = std::move(*carried);
  return change;
}

bool changes_nothing(const actions::ChecklistChange& change) {
  return change.use.empty() && !change.file && change.split.empty() && change.left_out.empty() &&
         change.carried.empty();
}

Exit run_checklist(Terminal& terminal, const ChecklistArguments& arguments) {
  if (arguments.shipped) return tell_shipped(terminal);
  const auto change = change_of(arguments);
  if (!change) return terminal.fail(change.error());
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  std::string list = arguments.list;
  if (!changes_nothing(*change)) {
    const auto changed = actions::change_checklist(*store, *change);
    if (!changed) return change->file ? terminal.refuse(changed.error()) : terminal.fail(changed.error());
    list = *changed;
  }
  if (arguments.as_text) {
    const auto text = actions::checklist_text(*store, list);
    if (!text) return terminal.fail(text.error());
    terminal.say(text->substr(0, text->size() - 1));
    terminal.print({{"text", *text}});
    return Exit::done;
  }
  const auto view = actions::view_checklist(*store, list);
  if (!view) return terminal.fail(view.error());
  tell(terminal, *view);
  return Exit::done;
}

struct RegimeArguments {
  std::string journal;
  std::string use;
  std::string file;
};

void add_facts(Terminal& terminal, Json& json, const std::string& key, const std::string& heading,
               const std::vector<handbook::Fact>& facts) {
  json[key] = Json::array();
  if (!facts.empty()) terminal.say(heading);
  for (const handbook::Fact& fact : facts) {
    json[key].push_back({{"text", fact.text}, {"source", to_text(handbook::Source{fact.source, fact.seen})}});
    terminal.say("  " + to_text(fact));
  }
}

void add_stages(Terminal& terminal, Json& json, const std::vector<actions::RegimeView::Stage>& stages) {
  json["inspections"] = Json::array();
  if (!stages.empty()) terminal.say("Inspections wanted, and what the journal has of them:");
  for (const auto& [wanted, held] : stages) {
    json["inspections"].push_back({{"stage", wanted.name},
                                   {"text", wanted.fact.text},
                                   {"source", to_text(handbook::Source{wanted.fact.source, wanted.fact.seen})},
                                   {"held", held}});
    terminal.say("  " + wanted.name + ": " + to_text(wanted.fact));
    for (const std::string& inspection : held) terminal.say("    " + inspection);
    if (held.empty()) terminal.say("    none in the journal");
  }
}

void tell(Terminal& terminal, const actions::RegimeView& view) {
  Json json{{"name", view.name.empty() ? Json(nullptr) : Json(view.name)}, {"known", Json::array()}};
  if (view.regime) {
    json["title"] = view.regime->title;
    terminal.say(view.regime->title);
    add_facts(terminal, json, "findings", "What is found:", view.regime->findings);
    add_facts(terminal, json, "tasks", "Tasks and hours:", view.regime->tasks);
    add_facts(terminal, json, "records", "Records wanted:", view.regime->records);
    add_stages(terminal, json, view.stages);
    add_facts(terminal, json, "notes", "Besides:", view.regime->notes);
  }
  json["sentences"] = view.sentences;
  for (const std::string& sentence : view.sentences) terminal.say(sentence);
  if (!view.regime) terminal.say("Known here:");
  for (const actions::RegimeName& known : actions::known_regimes()) {
    json["known"].push_back({{"name", known.name}, {"title", known.title}});
    if (!view.regime) terminal.say("  " + known.name + "  " + known.title);
  }
  json["caution"] = view.caution;
  terminal.say(view.caution);
  terminal.print(json);
}

Exit run_regime(Terminal& terminal, const RegimeArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  std::string use = arguments.use;
  if (!arguments.file.empty()) {
    const auto name = actions::use_regime_file(*store, arguments.file);
    if (!name) return terminal.refuse(name.error());
    // For other journals on this computer; this one has it already.
    if (const auto kept = actions::import_regime(arguments.file); !kept) terminal.note(kept.error().message());
  }
  if (!use.empty()) {
    if (const Done used = actions::use_regime(*store, use); !used) return terminal.fail(used.error());
  }
  const auto view = actions::view_regime(*store);
  if (!view) return terminal.fail(view.error());
  tell(terminal, *view);
  return Exit::done;
}

CLI::Option* repeated(CLI::App* app, const std::string& name, std::vector<std::string>& values,
                      const std::string& what) {
  return app->add_option(name, values, what + "; may be repeated")->take_all()->expected(1);
}

}  // namespace

void add_checklist_commands(Commands& commands) {
  auto& list = commands.keep<ChecklistArguments>();
  CLI::App* app =
      commands.add("checklist", "The rows of a checklist, who did what part of each, and what that adds up to",
                   "jigtime checklist elevator.jigtime --use metal-starter --set 5.3=2,0,8,0 --na 9.1");
  CLI::Option* journal = app->add_option("JOURNAL", list.journal, "The journal file");
  app->add_flag("--shipped", list.shipped, "Only name the lists that come with the program");
  app->add_option("--list", list.list, "Name of the list, where the journal has several");
  app->add_option("--use", list.use, "Take a list that comes with the program");
  app->add_option("--import", list.file, "Read a list of your own, e.g. the form in force written down as text");
  repeated(app, "--set", list.splits,
           "NUMBER=A,B,C,D: tenths by maker, paid help, builder's assembly, builder's fabrication");
  repeated(app, "--na", list.left_out, "NUMBER of a row that does not apply");
  repeated(app, "--carry", list.carried, "NUMBER=TASK: the task is work on that row");
  app->add_flag("--text", list.as_text, "Print the list as text that --import reads");
  commands.run(app, [&list, journal](Terminal& terminal) {
    if (journal->count() == 0 && !list.shipped) {
      return terminal.fail(
          {Code::invalid, "Say which journal, or --shipped for the lists that come with the program."});
    }
    return run_checklist(terminal, list);
  });

  auto& regime = commands.keep<RegimeArguments>();
  app = commands.add("regime", "The rules the build is shown under: finding, records and inspections wanted",
                     "jigtime regime elevator.jigtime --use us");
  app->add_option("JOURNAL", regime.journal, "The journal file")->required();
  app->add_option("--use", regime.use, "Name of the regime");
  app->add_option("--import", regime.file, "Read a text of your own and use it; the journal keeps it");
  commands.run(app, [&regime](Terminal& terminal) { return run_regime(terminal, regime); });
}

}  // namespace jigtime::cli
