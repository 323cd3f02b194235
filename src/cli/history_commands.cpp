#include "actions/history.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

std::string_view deed_text(store::Change::Deed deed) {
  switch (deed) {
    case store::Change::Deed::edit: return "edit";
    case store::Change::Deed::undo: return "undo";
    case store::Change::Deed::redo: return "redo";
  }
  return "edit";
}

Json change_json(const store::Change& change) {
  Json json{{"id", change.id},
            {"at", to_text(change.at)},
            {"who", change.who},
            {"deed", deed_text(change.deed)},
            {"label", change.label}};
  json["of"] = change.target ? Json(*change.target) : Json(nullptr);
  json["undone"] = change.undone;
  json["stays"] = change.stays;
  json["what"] = change.what;
  return json;
}

std::string change_text(const store::Change& change) {
  std::string line =
      std::to_string(change.id) + "  " + to_text(change.at) + "  " + (change.who.empty() ? "?" : change.who) + "  ";
  if (change.deed != store::Change::Deed::edit) {
    line += std::string{deed_text(change.deed)} + " of " + std::to_string(change.target.value_or(0)) + ": ";
  }
  line += change.label;
  if (!change.what.empty()) line += " (" + change.what + ")";
  return line + (change.undone ? "  undone" : change.stays ? "  sealed" : "");
}

using Step = Result<store::Change> (*)(store::Store&);

Exit run_step(Terminal& terminal, const std::string& journal, Step step, std::string_view said) {
  auto store = open_journal(journal);
  if (!store) return terminal.fail(store.error());
  const auto change = step(*store);
  if (!change) return terminal.fail(change.error());
  terminal.say(std::string{said} + ": " + change->label + (change->what.empty() ? "" : " (" + change->what + ")") +
               ".");
  if (change->passed_over > 0) {
    terminal.say(
        "What was done later stays, since it is sealed or a sealed session needs it. To have this edit back: "
        "jigtime redo.");
  }
  Json json = change_json(*change);
  json["passed_over"] = change->passed_over;
  terminal.print(json);
  return Exit::done;
}

struct HistoryArguments {
  std::string journal;
  int most = 50;
};

Exit run_history(Terminal& terminal, const HistoryArguments& arguments) {
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto changes = actions::history(*store, arguments.most);
  if (!changes) return terminal.fail(changes.error());
  Json json{{"changes", Json::array()}};
  for (const store::Change& change : *changes) {
    json["changes"].push_back(change_json(change));
    terminal.say(change_text(change));
  }
  if (changes->empty()) terminal.say("Nothing was done yet.");
  terminal.print(json);
  return Exit::done;
}

struct BackupArguments {
  std::string journal;
  std::string to;
};

Exit run_backup(Terminal& terminal, const BackupArguments& arguments) {
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  if (const Done copied = actions::back_up(*store, arguments.to); !copied) return terminal.fail(copied.error());
  terminal.say("Copied to " + shown(arguments.to) + ".");
  terminal.print({{"backup", shown(arguments.to)}});
  return Exit::done;
}

}  // namespace

void add_history_commands(Commands& commands) {
  auto& undo = commands.keep<std::string>();
  CLI::App* app = commands.add("undo", "Take back the last edit that can be taken back; what is sealed stays",
                               "jigtime undo elevator.jigtime");
  app->add_option("JOURNAL", undo, "The journal file")->required();
  commands.run(app, [&undo](Terminal& terminal) { return run_step(terminal, undo, actions::undo, "Undone"); });

  auto& redo = commands.keep<std::string>();
  app = commands.add("redo", "Do again what was undone last", "jigtime redo elevator.jigtime");
  app->add_option("JOURNAL", redo, "The journal file")->required();
  commands.run(app, [&redo](Terminal& terminal) { return run_step(terminal, redo, actions::redo, "Done again"); });

  auto& history = commands.keep<HistoryArguments>();
  app = commands.add("history", "Who did what and when, newest first", "jigtime history elevator.jigtime --most 20");
  app->add_option("JOURNAL", history.journal, "The journal file")->required();
  app->add_option("--most", history.most, "At most so many lines; 50 if left out")->check(CLI::Range(1, 1'000'000));
  commands.run(app, [&history](Terminal& terminal) { return run_history(terminal, history); });

  auto& backup = commands.keep<BackupArguments>();
  app = commands.add("backup", "Copy the journal to a new file, also while it is in use",
                     "jigtime backup elevator.jigtime --to /media/stick/elevator-2026-03-14.jigtime");
  app->add_option("JOURNAL", backup.journal, "The journal file")->required();
  app->add_option("--to", backup.to, "The file to make; one that exists is left alone")->required();
  commands.run(app, [&backup](Terminal& terminal) { return run_backup(terminal, backup); });
}

}  // namespace jigtime::cli
