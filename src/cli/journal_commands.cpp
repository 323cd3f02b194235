#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"
#include "cli/session_json.h"

namespace jigtime::cli {
namespace {

struct NewArguments {
  std::string journal;
  journal::Build build;
};

Exit run_new(Terminal& terminal, const NewArguments& arguments) {
  const auto made = actions::new_journal(arguments.journal, arguments.build);
  if (!made) return terminal.fail(made.error());
  const auto build = made->build();
  if (!build) return terminal.fail(build.error());
  terminal.say("New journal " + shown(arguments.journal) + " for " + build->name + " (" + build->zone + ").");
  terminal.print(
      {{"journal", shown(arguments.journal)}, {"build", build->name}, {"zone", build->zone}, {"place", build->place}});
  return Exit::done;
}

struct ShowArguments {
  std::string journal;
  std::string session;
};

Json span_json(const journal::Register& known, const journal::Span& span) {
  Json json{{"id", span.id.value},
            {"kind", to_text(span.kind)},
            {"begin_s", to_seconds(span.begin)},
            {"end_s", to_seconds(span.end)}};
  const journal::Task* task = span.task ? known.task(*span.task) : nullptr;
  json["task"] = task != nullptr ? Json(task->title) : Json(nullptr);
  json["people"] = Json::array();
  for (const journal::PersonId id : span.people) json["people"].push_back(known.person(id)->name);
  json["fasteners"] = Json::array();
  for (const journal::FastenerLine& line : span.fasteners) {
    json["fasteners"].push_back(
        {{"callout", line.callout}, {"method", to_text(line.method)}, {"set", line.set}, {"drilled", line.drilled}});
  }
  json["note"] = span.note;
  return json;
}

std::string span_text(const journal::Register& known, const journal::Span& span) {
  std::string line = to_clock_text(span.begin) + " to " + to_clock_text(span.end) + "  ";
  const journal::Task* task = span.task ? known.task(*span.task) : nullptr;
  line += span.kind == journal::SpanKind::pause ? "break" : task != nullptr ? task->title : "";
  std::vector<std::string> people;
  for (const journal::PersonId id : span.people) people.push_back(known.person(id)->name);
  if (!people.empty()) line += "  (" + listed(people) + ")";
  for (const journal::FastenerLine& fasteners : span.fasteners) {
    line += "  " + fasteners.callout + " x " + std::to_string(fasteners.set);
    if (fasteners.drilled > 0) line += ", " + std::to_string(fasteners.drilled) + " drilled out";
  }
  return span.note.empty() ? line : line + "  " + span.note;
}

Exit show_session(Terminal& terminal, const store::Store& store, const journal::Session& session) {
  const auto known = store.known();
  if (!known) return terminal.fail(known.error());
  const auto record = store.record(session.id);
  if (!record) return terminal.fail(record.error());
  terminal.say("Session " + to_text(session.date) +
               (record->entry ? ", sealed as entry " + std::to_string(record->entry->number) : ""));
  say_line_up(terminal, *known, *record);
  Json json = line_up_json(*known, *record);
  json["spans"] = Json::array();
  for (const journal::Span& span : record->spans) {
    json["spans"].push_back(span_json(*known, span));
    terminal.say(span_text(*known, span));
  }
  json["marks"] = Json::array();
  for (const journal::Mark& mark : record->marks) {
    json["marks"].push_back({{"id", mark.id.value}, {"at_s", to_seconds(mark.at)}, {"note", mark.note}});
    terminal.say(to_clock_text(mark.at) + "  mark  " + mark.note);
  }
  json["sealed"] = record->entry ? Json(record->entry->number) : Json(nullptr);
  terminal.print(json);
  return Exit::done;
}

Exit show_all(Terminal& terminal, const store::Store& store) {
  const auto build = store.build();
  if (!build) return terminal.fail(build.error());
  const auto known = store.known();
  if (!known) return terminal.fail(known.error());
  const auto sessions = store.sessions();
  if (!sessions) return terminal.fail(sessions.error());
  Json json{{"build", build->name}, {"place", build->place}, {"zone", build->zone}, {"sessions", Json::array()}};
  terminal.say(build->name + (build->place.empty() ? "" : ", " + build->place) + " (" + build->zone + ")");
  for (const journal::Session& session : *sessions) {
    const auto record = store.record(session.id);
    if (!record) return terminal.fail(record.error());
    json["sessions"].push_back({{"session", to_text(session.date)},
                                {"clips", record->clips.size()},
                                {"spans", record->spans.size()},
                                {"marks", record->marks.size()},
                                {"sealed", record->entry.has_value()}});
    terminal.say("  " + to_text(session.date) + "  " + std::to_string(record->clips.size()) + " clips, " +
                 std::to_string(record->spans.size()) + " spans, " + std::to_string(record->marks.size()) + " marks" +
                 (record->entry ? ", sealed" : ""));
  }
  if (sessions->empty()) terminal.say("  No session yet. Import some footage: jigtime import.");
  json["cameras"] = Json::array();
  for (const journal::Camera& camera : known->cameras) json["cameras"].push_back(camera.name);
  terminal.print(json);
  return Exit::done;
}

Exit run_show(Terminal& terminal, const ShowArguments& arguments) {
  if (arguments.session.empty()) {
    const auto store = open_journal(arguments.journal);
    return store ? show_all(terminal, *store) : terminal.fail(store.error());
  }
  const auto open = open_session(arguments.journal, arguments.session);
  return open ? show_session(terminal, open->store, open->session) : terminal.fail(open.error());
}

struct PersonArguments {
  std::string journal;
  std::string name;
  std::string role = "builder";
};

Exit run_person(Terminal& terminal, const PersonArguments& arguments) {
  const auto role = journal::parse_role(arguments.role);
  if (!role)
    return terminal.fail(
        {Code::invalid, "--role: \"" + arguments.role + "\" is none of builder, helper, hired, supplier."});
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (const Done added = actions::add_person(*store, arguments.name, *role); !added) {
    return terminal.fail(added.error());
  }
  terminal.say(arguments.name + ", " + std::string{to_text(*role)} + ".");
  terminal.print({{"person", arguments.name}, {"role", to_text(*role)}});
  return Exit::done;
}

struct AssemblyArguments {
  std::string journal;
  std::string path;
};

Exit run_assembly(Terminal& terminal, const AssemblyArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto added = actions::add_assembly(*store, arguments.path);
  if (!added) return terminal.fail(added.error());
  const auto known = store->known();
  if (!known) return terminal.fail(known.error());
  terminal.say(known->assembly_path(*added));
  terminal.print({{"assembly", known->assembly_path(*added)}});
  return Exit::done;
}

struct TaskArguments {
  std::string journal;
  actions::TaskWords words;
};

Exit run_task(Terminal& terminal, const TaskArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (const Done added = actions::add_task(*store, arguments.words); !added) {
    return terminal.fail(added.error());
  }
  terminal.say("Task \"" + arguments.words.title + "\".");
  terminal.print({{"task", arguments.words.title}});
  return Exit::done;
}

/// JOURNAL and the word "add".
void add_journal_and_verb(CLI::App* app, std::string& journal) {
  app->add_option("JOURNAL", journal, "The journal file")->required();
  app->add_option("VERB", "add")->required()->check(CLI::IsMember({"add"}));
}

}  // namespace

void add_journal_commands(Commands& commands) {
  auto& fresh = commands.keep<NewArguments>();
  CLI::App* app = commands.add(
      "new", "Begin a journal: one file, one aircraft",
      "jigtime new elevator.jigtime --build \"Marten, serial 7\" --zone Europe/Lisbon --place \"Village workshop\"");
  app->add_option("JOURNAL", fresh.journal, "The file to make, usually NAME.jigtime")->required();
  app->add_option("--build", fresh.build.name, "The aircraft that is being built")->required();
  app->add_option("--zone", fresh.build.zone, "Time zone as AREA/CITY; this computer's if left out");
  app->add_option("--place", fresh.build.place, "Where it is built");
  commands.run(app, [&fresh](Terminal& terminal) { return run_new(terminal, fresh); });

  auto& show = commands.keep<ShowArguments>();
  app = commands.add("show", "Show what the journal, or one session of it, holds",
                     "jigtime show elevator.jigtime --session 2026-03-14");
  app->add_option("JOURNAL", show.journal, "The journal file")->required();
  app->add_option("--session", show.session, "Day of the session, YYYY-MM-DD");
  commands.run(app, [&show](Terminal& terminal) { return run_show(terminal, show); });

  auto& person = commands.keep<PersonArguments>();
  app = commands.add("person", "People and their roles",
                     "jigtime person elevator.jigtime add \"Mara Lind\" --role builder");
  add_journal_and_verb(app, person.journal);
  app->add_option("NAME", person.name, "The person's name")->required();
  app->add_option("--role", person.role,
                  "builder, helper (unpaid), hired (paid) or supplier (work done by the kit's maker)");
  commands.run(app, [&person](Terminal& terminal) { return run_person(terminal, person); });

  auto& assembly = commands.keep<AssemblyArguments>();
  app = commands.add("assembly", "The tree of assemblies",
                     "jigtime assembly elevator.jigtime add \"Tail / Elevator, left\"");
  add_journal_and_verb(app, assembly.journal);
  app->add_option("PATH", assembly.path, "Steps parted by a slash; what is missing of the path is added")->required();
  commands.run(app, [&assembly](Terminal& terminal) { return run_assembly(terminal, assembly); });

  auto& task = commands.keep<TaskArguments>();
  app = commands.add("task", "Tasks, where they belong and what the drawing asks for",
                     "jigtime task elevator.jigtime add \"Rivet skin to ribs\" --assembly \"Tail / Elevator, left\" "
                     "--sheet 9 --step 14 "
                     "--plan MS20426AD3-4=72");
  add_journal_and_verb(app, task.journal);
  app->add_option("TITLE", task.words.title,
                  "What the task is called; one that exists is changed where options are given")
      ->required();
  app->add_option("--assembly", task.words.assembly, "Path of its assembly");
  app->add_option("--sheet", task.words.plan_sheet, "Sheet of the plans");
  app->add_option("--step", task.words.plan_step, "Step of the plans");
  app->add_option("--plan", task.words.planned,
                  "CALLOUT=COUNT that the drawing asks for; may be repeated; 0 takes it out")
      ->take_all()
      ->expected(1);
  commands.run(app, [&task](Terminal& terminal) { return run_task(terminal, task); });
}

}  // namespace jigtime::cli
