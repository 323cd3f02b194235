#include "actions/items.h"
#include "actions/zone.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

/// The named day, or the one that it is at the build's place.
Result<std::chrono::year_month_day> day_or_today(const store::Store& store, const std::string& date) {
  if (!date.empty()) return date_of(date);
  const auto build = store.build();
  if (!build) return build.error();
  return actions::today(build->zone);
}

/// The session of that day, if one is named.
Result<std::optional<journal::Session>> maybe_session(const store::Store& store, const std::string& date) {
  if (date.empty()) return std::optional<journal::Session>{};
  const auto day = date_of(date);
  if (!day) return day.error();
  const auto session = store.session(*day);
  if (!session) return session.error();
  return std::optional{*session};
}

struct ItemArguments {
  std::string journal;
  std::string verb;
  std::int64_t id = 0;
  std::string kind = "part";
  std::string words;
  std::string session;
  std::string at;
  std::int64_t mark = 0;
  std::int64_t span = 0;
  std::string on;
  std::string task;
  bool all = false;
};

Json item_json(const actions::ItemLine& line) {
  Json json{{"id", line.item.id.value},
            {"kind", to_text(line.item.kind)},
            {"words", line.item.words},
            {"opened_on", to_text(line.item.opened_on)},
            {"days", line.days}};
  json["session"] = line.session.empty() ? Json(nullptr) : Json(line.session);
  json["at_s"] = line.item.at ? Json(to_seconds(*line.item.at)) : Json(nullptr);
  json["task"] = line.task.empty() ? Json(nullptr) : Json(line.task);
  json["closed_on"] = line.item.closing ? Json(to_text(line.item.closing->on)) : Json(nullptr);
  json["closed_by_span"] =
      line.item.closing && line.item.closing->span ? Json(line.item.closing->span->value) : Json(nullptr);
  json["closed_with"] = line.item.closing ? Json(line.item.closing->words) : Json(nullptr);
  return json;
}

std::string item_text(const actions::ItemLine& line) {
  std::string text = "item " + std::to_string(line.item.id.value) + "  " + std::string{to_text(line.item.kind)} + "  " +
                     line.item.words + "  since " + to_text(line.item.opened_on);
  if (line.days >= 0) text += ", " + std::to_string(line.days) + (line.days == 1 ? " day" : " days");
  if (line.item.at) text += "  at " + to_clock_text(*line.item.at);
  if (!line.task.empty()) text += "  (" + line.task + ")";
  if (!line.item.closing) return text;
  text += "  closed on " + to_text(line.item.closing->on);
  return line.item.closing->words.empty() ? text : text + ": " + line.item.closing->words;
}

Exit list_items(Terminal& terminal, const store::Store& store, const ItemArguments& arguments) {
  const auto today = day_or_today(store, {});
  if (!today) return terminal.fail(today.error());
  const auto lines = actions::list_items(store, arguments.all ? actions::Which::all : actions::Which::waiting, *today);
  if (!lines) return terminal.fail(lines.error());
  Json json{{"items", Json::array()}};
  for (const actions::ItemLine& line : *lines) {
    json["items"].push_back(item_json(line));
    terminal.say(item_text(line));
  }
  if (lines->empty()) terminal.say("Nothing waits.");
  terminal.print(json);
  return Exit::done;
}

Result<actions::ItemWords> words_of(const store::Store& store, const ItemArguments& arguments) {
  const auto kind = journal::parse_item_kind(arguments.kind);
  if (!kind) {
    return Error{Code::invalid, "--kind: \"" + arguments.kind + "\" is none of part, tool, answer, inspection, redo."};
  }
  const auto session = maybe_session(store, arguments.session);
  if (!session) return session.error();
  actions::ItemWords words{*kind,        arguments.words, std::nullopt,  std::nullopt,
                           std::nullopt, std::nullopt,    arguments.task};
  if (*session) words.session = (*session)->id;
  if (arguments.mark != 0) words.mark = journal::MarkId{arguments.mark};
  if (!arguments.at.empty()) {
    const auto at = time_of(arguments.at, "--at");
    if (!at) return at.error();
    words.at = *at;
  }
  if (!arguments.on.empty() || !*session) {
    const auto on = day_or_today(store, arguments.on);
    if (!on) return on.error();
    words.on = *on;
  }
  return words;
}

Done close(store::Store& store, const ItemArguments& arguments) {
  const journal::ItemId id{arguments.id};
  const auto session = maybe_session(store, arguments.session);
  if (!session) return session.error();
  if (arguments.span != 0) {
    if (!*session) return Error{Code::invalid, "Say with --session in which session the span lies."};
    return actions::close_item(store, id, (*session)->id, {arguments.span}, arguments.words);
  }
  const auto on = day_or_today(store, arguments.on);
  if (!on) return on.error();
  return actions::close_item(store, id, *on, arguments.words);
}

Exit run_item(Terminal& terminal, const ItemArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (arguments.verb == "list") return list_items(terminal, *store, arguments);
  std::int64_t id = arguments.id;
  Done done;
  if (arguments.verb == "open") {
    const auto words = words_of(*store, arguments);
    if (!words) return terminal.fail(words.error());
    const auto opened = actions::open_item(*store, *words);
    if (!opened) return terminal.fail(opened.error());
    id = opened->value;
  } else if (id == 0) {
    return terminal.fail({Code::invalid, "Say with --id which item is meant; \"list\" prints them."});
  } else if (arguments.verb == "close") {
    done = close(*store, arguments);
  } else if (arguments.verb == "reopen") {
    done = actions::reopen_item(*store, {id});
  } else {
    done = actions::delete_item(*store, {id});
  }
  if (!done) return terminal.fail(done.error());
  terminal.say("Item " + std::to_string(id) + ": " + arguments.verb + ".");
  terminal.print({{"verb", arguments.verb}, {"item", id}});
  return Exit::done;
}

struct InspectionArguments {
  std::string journal;
  std::string verb;
  std::int64_t id = 0;
  std::string date;
  std::string person;
  std::string licence;
  std::string looked_at;
  std::string findings;
  std::string stage;
  std::string session;
  std::string at;
  std::string on;
};

Json inspection_json(const journal::Inspection& inspection, const std::vector<journal::Session>& sessions) {
  Json json{{"id", inspection.id.value},     {"date", to_text(inspection.date)},  {"person", inspection.person},
            {"licence", inspection.licence}, {"looked_at", inspection.looked_at}, {"findings", inspection.findings},
            {"stage", inspection.stage}};
  json["session"] = nullptr;
  for (const journal::Session& session : sessions) {
    if (inspection.session == session.id) json["session"] = to_text(session.date);
  }
  json["at_s"] = inspection.at ? Json(to_seconds(*inspection.at)) : Json(nullptr);
  json["cleared_on"] = inspection.cleared_on ? Json(to_text(*inspection.cleared_on)) : Json(nullptr);
  return json;
}

Exit list_inspections(Terminal& terminal, const store::Store& store) {
  const auto inspections = store.inspections();
  if (!inspections) return terminal.fail(inspections.error());
  const auto sessions = store.sessions();
  if (!sessions) return terminal.fail(sessions.error());
  Json json{{"inspections", Json::array()}};
  for (const journal::Inspection& inspection : *inspections) {
    json["inspections"].push_back(inspection_json(inspection, *sessions));
    terminal.say("inspection " + std::to_string(inspection.id.value) + "  " + to_text(inspection.date) + "  " +
                 inspection.person + (inspection.licence.empty() ? "" : " (" + inspection.licence + ")") + "  " +
                 inspection.looked_at + "  " + (inspection.findings.empty() ? "no findings" : inspection.findings) +
                 (inspection.cleared_on ? "  cleared on " + to_text(*inspection.cleared_on) : ""));
  }
  if (inspections->empty()) terminal.say("There is none yet.");
  terminal.print(json);
  return Exit::done;
}

Result<journal::Inspection> inspection_of(const store::Store& store, const InspectionArguments& arguments) {
  const auto date = date_of(arguments.date);
  if (!date) return date.error();
  journal::Inspection inspection;
  inspection.date = *date;
  inspection.person = arguments.person;
  inspection.licence = arguments.licence;
  inspection.looked_at = arguments.looked_at;
  inspection.findings = arguments.findings;
  inspection.stage = arguments.stage;
  const auto session = maybe_session(store, arguments.session);
  if (!session) return session.error();
  if (*session) inspection.session = (*session)->id;
  if (arguments.at.empty()) return inspection;
  const auto at = time_of(arguments.at, "--at");
  if (!at) return at.error();
  inspection.at = *at;
  return inspection;
}

Exit run_inspection(Terminal& terminal, const InspectionArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (arguments.verb == "list") return list_inspections(terminal, *store);
  std::int64_t id = arguments.id;
  Done done;
  if (arguments.verb == "add") {
    const auto inspection = inspection_of(*store, arguments);
    if (!inspection) return terminal.fail(inspection.error());
    const auto added = actions::add_inspection(*store, *inspection);
    if (!added) return terminal.fail(added.error());
    id = added->value;
  } else if (id == 0) {
    return terminal.fail({Code::invalid, "Say with --id which inspection is meant; \"list\" prints them."});
  } else if (arguments.verb == "clear") {
    const auto on = day_or_today(*store, arguments.on);
    if (!on) return terminal.fail(on.error());
    done = actions::clear_inspection(*store, {id}, *on);
  } else {
    done = actions::delete_inspection(*store, {id});
  }
  if (!done) return terminal.fail(done.error());
  terminal.say("Inspection " + std::to_string(id) + ": " + arguments.verb + ".");
  terminal.print({{"verb", arguments.verb}, {"inspection", id}});
  return Exit::done;
}

}  // namespace

void add_waiting_commands(Commands& commands) {
  auto& item = commands.keep<ItemArguments>();
  CLI::App* app = commands.add("item", "What waits: for a part, a tool, an answer, an inspection, or a redo",
                               "jigtime item elevator.jigtime open --kind part --words \"hinge pin\" --session "
                               "2026-03-14 --at 0:12:00\n"
                               "  jigtime item elevator.jigtime close --id 2 --session 2026-04-02 --span 31\n"
                               "  jigtime item elevator.jigtime list");
  app->add_option("JOURNAL", item.journal, "The journal file")->required();
  app->add_option("VERB", item.verb, "open, close, reopen, delete or list")
      ->required()
      ->check(CLI::IsMember({"open", "close", "reopen", "delete", "list"}));
  app->add_option("--id", item.id, "close, reopen, delete: number of the item");
  app->add_option("--kind", item.kind, "open: part, tool, answer, inspection or redo");
  app->add_option("--words", item.words, "open: what it waits for; close: what became of it");
  app->add_option("--session", item.session, "Day of the session, YYYY-MM-DD");
  app->add_option("--at", item.at, "open: H:MM:SS[.mmm] on the session clock");
  app->add_option("--mark", item.mark, "open: number of a mark of the session");
  app->add_option("--span", item.span, "close: number of the span whose work closed it");
  app->add_option("--on", item.on, "Day it was opened or closed; the session's, or today's, if left out");
  app->add_option("--task", item.task, "open: title of the task that waits");
  app->add_flag("--all", item.all, "list: closed ones too");
  commands.run(app, [&item](Terminal& terminal) { return run_item(terminal, item); });

  auto& inspection = commands.keep<InspectionArguments>();
  app = commands.add("inspection", "Inspections by knowledgeable people",
                     "jigtime inspection elevator.jigtime add --date 2026-03-20 --person \"R. Vane\" --licence 4711 "
                     "--looked-at \"Elevator before closing\" --findings \"one low head\"\n"
                     "  jigtime inspection elevator.jigtime clear --id 1 --on 2026-03-22");
  app->add_option("JOURNAL", inspection.journal, "The journal file")->required();
  app->add_option("VERB", inspection.verb, "add, clear, delete or list")
      ->required()
      ->check(CLI::IsMember({"add", "clear", "delete", "list"}));
  app->add_option("--id", inspection.id, "clear, delete: number of the inspection");
  app->add_option("--date", inspection.date, "add: day of the inspection, YYYY-MM-DD");
  app->add_option("--person", inspection.person, "add: who looked");
  app->add_option("--licence", inspection.licence, "add: their number or licence");
  app->add_option("--looked-at", inspection.looked_at, "add: what was looked at");
  app->add_option("--findings", inspection.findings, "add: what was found; nothing if left out");
  app->add_option("--stage", inspection.stage, "add: which stage inspection it is");
  app->add_option("--session", inspection.session, "add: day of the session that shows it");
  app->add_option("--at", inspection.at, "add: H:MM:SS[.mmm] on that session's clock");
  app->add_option("--on", inspection.on, "clear: the day, YYYY-MM-DD; today's if left out");
  commands.run(app, [&inspection](Terminal& terminal) { return run_inspection(terminal, inspection); });
}

}  // namespace jigtime::cli
