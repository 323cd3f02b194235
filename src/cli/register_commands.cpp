#include "actions/near_names.h"
#include "actions/shelf.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

/// What all three registers are asked to do.
struct ShelfArguments {
  std::string journal;
  std::string verb;
  std::string name;
  std::string to;
  std::string into;
};

Exit run_shelf(Terminal& terminal, const ShelfArguments& arguments, actions::Shelved what) {
  if (arguments.name.empty()) return terminal.fail({Code::invalid, "Name the one that is meant."});
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  Done done;
  std::string said = arguments.name;
  if (arguments.verb == "rename") {
    if (arguments.to.empty()) return terminal.fail({Code::invalid, "Say the new name with --to."});
    done = actions::rename(*store, what, arguments.name, arguments.to);
    said += " is called " + arguments.to + " now.";
  } else if (arguments.verb == "merge") {
    if (arguments.into.empty()) return terminal.fail({Code::invalid, "Say with --into which one it is."});
    done = actions::merge(*store, what, arguments.name, arguments.into);
    said += " counts as " + arguments.into + " now.";
  } else {
    const bool away = arguments.verb == "archive";
    done = actions::put(*store, what, arguments.name, away ? actions::Place::shelf : actions::Place::desk);
    said += away ? " is put away." : " is offered again.";
  }
  if (!done) return terminal.fail(done.error());
  terminal.say(said);
  terminal.print({{arguments.verb, arguments.name}});
  return Exit::done;
}

/// JOURNAL, the verb and the name; `name` is not asked for by "list".
void add_verb(CLI::App* app, ShelfArguments& arguments, const std::string& name, const std::string& what) {
  app->add_option("JOURNAL", arguments.journal, "The journal file")->required();
  app->add_option("VERB", arguments.verb, "add, list, rename, change, merge, archive or restore")
      ->required()
      ->check(CLI::IsMember({"add", "list", "rename", "change", "merge", "archive", "restore"}));
  app->add_option(name, arguments.name, what);
  app->add_option("--to", arguments.to, "rename: the new name");
  app->add_option("--into", arguments.into, "merge: the one it was all along");
}

template <class RowId>
Json shelf_json(Json json, const journal::Shelf<RowId>& shelf) {
  json["archived"] = shelf.archived;
  json["merged"] = shelf.merged.has_value();
  return json;
}

template <class RowId>
std::string shelf_text(const journal::Shelf<RowId>& shelf) {
  return shelf.merged ? "  (merged into another)" : shelf.archived ? "  (put away)" : "";
}

Exit list(Terminal& terminal, const std::string& journal, const std::string& what,
          const std::function<void(const journal::Register&, Json&)>& write) {
  const auto store = open_journal(journal);
  if (!store) return terminal.fail(store.error());
  const auto known = store->known();
  if (!known) return terminal.fail(known.error());
  Json rows = Json::array();
  write(*known, rows);
  if (rows.empty()) terminal.say("There is none yet.");
  terminal.print({{what, rows}});
  return Exit::done;
}

struct PersonArguments {
  ShelfArguments shelf;
  std::string role = "builder";
};

Exit run_person(Terminal& terminal, const PersonArguments& arguments, bool with_role) {
  const ShelfArguments& shelf = arguments.shelf;
  if (shelf.verb == "list") {
    return list(terminal, shelf.journal, "people", [&](const journal::Register& known, Json& rows) {
      for (const journal::Person& person : known.people) {
        rows.push_back(shelf_json({{"person", person.name}, {"role", to_text(person.role)}}, person.shelf));
        terminal.say(person.name + ", " + std::string{to_text(person.role)} + shelf_text(person.shelf));
      }
    });
  }
  if (shelf.verb != "add" && shelf.verb != "change") return run_shelf(terminal, shelf, actions::Shelved::person);
  if (shelf.verb == "change" && !with_role) {
    return terminal.fail({Code::invalid, "Say with --role what the person is from now on."});
  }
  const auto role = journal::parse_role(arguments.role);
  if (!role)
    return terminal.fail(
        {Code::invalid, "--role: \"" + arguments.role + "\" is none of builder, helper, hired, supplier."});
  auto store = open_journal(shelf.journal);
  if (!store) return terminal.fail(store.error());
  const Done done = shelf.verb == "add" ? actions::add_person(*store, shelf.name, *role)
                                        : actions::change_role(*store, shelf.name, *role);
  if (!done) return terminal.fail(done.error());
  const auto known = store->known();
  const std::string hint = known && shelf.verb == "add"
                               ? actions::near_name_hint(known->people, &journal::Person::name, shelf.name, "person")
                               : "";
  terminal.say(shelf.name + ", " + std::string{to_text(*role)} + "." + hint);
  terminal.print({{"person", shelf.name}, {"role", to_text(*role)}});
  return Exit::done;
}

struct AssemblyArguments {
  ShelfArguments shelf;
  std::string sheet;
};

Exit run_assembly(Terminal& terminal, const AssemblyArguments& asked, bool with_sheet) {
  const ShelfArguments& arguments = asked.shelf;
  if (arguments.verb == "list") {
    return list(terminal, arguments.journal, "assemblies", [&](const journal::Register& known, Json& rows) {
      for (const journal::Assembly& assembly : known.assemblies) {
        const std::string path = known.assembly_path(assembly.id);
        rows.push_back(shelf_json({{"assembly", path}, {"sheet", assembly.plan_sheet}}, assembly.shelf));
        terminal.say(path + shelf_text(assembly.shelf));
      }
    });
  }
  if (arguments.verb != "add" && arguments.verb != "change") {
    return run_shelf(terminal, arguments, actions::Shelved::assembly);
  }
  if (arguments.verb == "change" && !with_sheet) {
    return terminal.fail({Code::invalid, "Say with --sheet which sheet of the plans shows it."});
  }
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (arguments.verb == "add") {
    if (const auto added = actions::add_assembly(*store, arguments.name); !added) return terminal.fail(added.error());
  }
  if (with_sheet || arguments.verb == "change") {
    if (const Done set = actions::set_sheet(*store, arguments.name, asked.sheet); !set)
      return terminal.fail(set.error());
  }
  const auto known = store->known();
  if (!known) return terminal.fail(known.error());
  const journal::Assembly* assembly = known->assembly(arguments.name);
  const std::string path = assembly == nullptr ? arguments.name : known->assembly_path(assembly->id);
  terminal.say(path + (assembly == nullptr || assembly->plan_sheet.empty() ? "" : ", sheet " + assembly->plan_sheet));
  terminal.print({{"assembly", path}, {"sheet", assembly == nullptr ? "" : assembly->plan_sheet}});
  return Exit::done;
}

struct TaskArguments {
  ShelfArguments shelf;
  actions::TaskWords words;
};

Json task_json(const journal::Register& known, const journal::Task& task) {
  Json json{{"task", task.title},
            {"assembly", known.assembly_path(task.assembly)},
            {"sheet", task.plan_sheet},
            {"step", task.plan_step}};
  const journal::Task* parent = task.parent ? known.task(*task.parent) : nullptr;
  json["parent"] = parent == nullptr ? Json(nullptr) : Json(parent->title);
  const journal::ChecklistLine* line = task.checklist_line ? known.checklist_line(*task.checklist_line) : nullptr;
  json["checklist_line"] = line == nullptr ? Json(nullptr) : Json(line->number);
  return shelf_json(json, task.shelf);
}

Exit run_task(Terminal& terminal, const TaskArguments& arguments) {
  const ShelfArguments& shelf = arguments.shelf;
  if (shelf.verb == "list") {
    return list(terminal, shelf.journal, "tasks", [&](const journal::Register& known, Json& rows) {
      for (const journal::Task& task : known.tasks) {
        rows.push_back(task_json(known, task));
        const std::string path = known.assembly_path(task.assembly);
        terminal.say(task.title + (path.empty() ? "" : "  " + path) + shelf_text(task.shelf));
      }
    });
  }
  if (shelf.verb != "add" && shelf.verb != "change") return run_shelf(terminal, shelf, actions::Shelved::task);
  auto store = open_journal(shelf.journal);
  if (!store) return terminal.fail(store.error());
  actions::TaskWords words = arguments.words;
  words.title = shelf.name;
  if (const Done added = actions::add_task(*store, words); !added) return terminal.fail(added.error());
  const auto known = store->known();
  terminal.say("Task \"" + words.title + "\"." +
               (known && shelf.verb == "add"
                    ? actions::near_name_hint(known->tasks, &journal::Task::title, words.title, "task")
                    : ""));
  terminal.print({{"task", words.title}});
  return Exit::done;
}

struct OffCameraArguments {
  std::string journal;
  std::string session;
  std::string length;
  std::string from;
  actions::SpanWords words;
};

Exit run_off_camera(Terminal& terminal, const OffCameraArguments& arguments) {
  const auto day = date_of(arguments.session);
  if (!day) return terminal.fail(day.error());
  const auto length = time_of(arguments.length, "--hours");
  if (!length) return terminal.fail(length.error());
  actions::OffCamera work{*day, length->time_since_epoch(), std::nullopt, arguments.words};
  if (!arguments.from.empty()) {
    const auto from = time_of(arguments.from, "--from");
    if (!from) return terminal.fail(from.error());
    work.from = *from;
  }
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto tagged = actions::add_off_camera(*store, work);
  if (!tagged) return terminal.fail(tagged.error());
  for (const std::string& sentence : tagged->created) terminal.note(sentence);
  terminal.say(to_short_clock_text(work.length) + " entered for " + to_text(*day) + ", as unfilmed.");
  terminal.print({{"session", to_text(*day)}, {"span", tagged->spans.front().value}});
  return Exit::done;
}

void add_off_camera_command(Commands& commands) {
  auto& work = commands.keep<OffCameraArguments>();
  CLI::App* app = commands.add("worked", "Enter hours that no camera saw; they count, and are shown as unfilmed",
                               "jigtime worked elevator.jigtime --session 2025-11-02 --hours 3:30:00 --task \"Prime "
                               "ribs\" --person Mara");
  app->add_option("JOURNAL", work.journal, "The journal file")->required();
  app->add_option("--session", work.session, "Day, YYYY-MM-DD; added if there is none")->required();
  app->add_option("--hours", work.length, "How long, H:MM:SS")->required();
  app->add_option("--task", work.words.task, "Title of the task; added if it is new")->required();
  app->add_option("--assembly", work.words.assembly, "Where a new task belongs");
  app->add_option("--person", work.words.people, "Who worked; may be repeated")->take_all()->expected(1);
  app->add_option("--fastener", work.words.fasteners, "CALLOUT=SET[-DRILLED]; may be repeated")
      ->take_all()
      ->expected(1);
  app->add_option("--from", work.from, "H:MM:SS on the session clock; behind everything else if left out");
  app->add_option("--note", work.words.note, "Anything worth keeping");
  commands.run(app, [&work](Terminal& terminal) { return run_off_camera(terminal, work); });
}

}  // namespace

void add_register_commands(Commands& commands) {
  auto& person = commands.keep<PersonArguments>();
  CLI::App* app = commands.add("person", "People and their roles",
                               "jigtime person elevator.jigtime add \"Mara Lind\" --role builder\n"
                               "  jigtime person elevator.jigtime merge \"M. Lind\" --into \"Mara Lind\"");
  add_verb(app, person.shelf, "NAME", "The person's name");
  CLI::Option* role =
      app->add_option("--role", person.role,
                      "add, change: builder, helper (unpaid), hired (paid) or supplier (work done by the kit's maker)");
  commands.run(app, [&person, role](Terminal& terminal) { return run_person(terminal, person, role->count() > 0); });

  auto& assembly = commands.keep<AssemblyArguments>();
  app = commands.add("assembly", "The tree of assemblies",
                     "jigtime assembly elevator.jigtime add \"Tail / Elevator, left\" --sheet 9");
  add_verb(app, assembly.shelf, "PATH", "Steps parted by a slash; what is missing of the path is added");
  CLI::Option* sheet = app->add_option("--sheet", assembly.sheet, "add, change: sheet of the plans that shows it");
  commands.run(app,
               [&assembly, sheet](Terminal& terminal) { return run_assembly(terminal, assembly, sheet->count() > 0); });

  auto& task = commands.keep<TaskArguments>();
  app = commands.add("task", "Tasks, where they belong and what the drawing asks for",
                     "jigtime task elevator.jigtime add \"Rivet skin to ribs\" --assembly \"Tail / Elevator, left\" "
                     "--sheet 9 --step 14 "
                     "--plan MS20426AD3-4=72@0.064");
  add_verb(app, task.shelf, "TITLE", "What the task is called; one that exists is changed where options are given");
  app->add_option("--assembly", task.words.assembly, "Path of its assembly");
  app->add_option("--sheet", task.words.plan_sheet, "Sheet of the plans");
  app->add_option("--step", task.words.plan_step, "Step of the plans");
  app->add_option("--part-of", task.words.parent, "Title of the task that it is a part of");
  app->add_option("--line", task.words.checklist_line, "Line of a checklist that it carries, LIST:NUMBER");
  app->add_option(
         "--plan", task.words.planned,
         "CALLOUT=COUNT[@GRIP] that the drawing asks for, the grip in inches; may be repeated; a count of 0 takes "
         "it out")
      ->take_all()
      ->expected(1);
  commands.run(app, [&task](Terminal& terminal) { return run_task(terminal, task); });
  add_off_camera_command(commands);
}

}  // namespace jigtime::cli
