#include "actions/footage.h"
#include "actions/zone.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct FootageArguments {
  std::string journal;
  std::string session;
  std::string let_go;
  std::string reason;
  std::string kept_copy;
  std::string look_in;
};

Exit list_footage(Terminal& terminal, const OpenSession& open) {
  const auto files = actions::list_footage(open.store, open.session.id);
  if (!files) return terminal.fail(files.error());
  Json json{{"session", to_text(open.session.date)}, {"files", Json::array()}};
  bool complete = true;
  for (const actions::FootageFile& file : *files) {
    complete = complete && file.state != actions::FootageState::elsewhere;
    json["files"].push_back({{"camera", file.camera},
                             {"clip", shown(file.clip_name)},
                             {"file", shown(file.path.filename().string())},
                             {"path", shown(file.path.string())},
                             {"state", actions::state_text(file.state)},
                             {"why", shown(file.why)}});
    terminal.say(file.camera + "  " + shown(file.path.filename().string()) + "  " +
                 std::string{actions::state_text(file.state)} + (file.why.empty() ? "" : "  " + shown(file.why)));
  }
  if (files->empty()) terminal.say("The session has no footage.");
  terminal.print(json);
  return complete ? Exit::done : Exit::needs_builder;
}

Exit let_go(Terminal& terminal, OpenSession& open, const FootageArguments& arguments) {
  const auto build = open.store.build();
  if (!build) return terminal.fail(build.error());
  const actions::LettingGo deed{arguments.let_go, arguments.reason, actions::today(build->zone), arguments.kept_copy};
  const auto given_up = actions::let_footage_go(open.store, open.session.id, deed, terminal.watch());
  if (!given_up) return terminal.fail(given_up.error());
  Json json{{"let_go", shown(arguments.let_go)},
            {"stills_kept", given_up->stills_kept},
            {"notes", Json::array()},
            {"still_there", Json::array()}};
  terminal.say(shown(arguments.let_go) + " is let go; " + std::to_string(given_up->stills_kept) +
               " stills of its marks were kept.");
  for (const std::string& note : given_up->notes) {
    json["notes"].push_back(shown(note));
    terminal.say(shown(note));
  }
  for (const auto& path : given_up->files_still_there) {
    json["still_there"].push_back(shown(path.string()));
    terminal.say("Jigtime deletes nothing. The file is still there: " + shown(path.string()));
  }
  terminal.print(json);
  return Exit::done;
}

Exit look_in(Terminal& terminal, store::Store& store, std::optional<journal::SessionId> session,
             const std::string& folder) {
  const auto found = actions::look_in(store, session, folder, terminal.watch());
  if (!found) return terminal.fail(found.error());
  Json json{{"relinked", found->relinked}, {"missing", Json::array()}};
  terminal.say(std::to_string(found->relinked) + (found->relinked == 1 ? " file found again." : " files found again."));
  for (const auto& path : found->missing) {
    json["missing"].push_back(shown(path.string()));
    terminal.say("Still missing: " + shown(path.string()));
  }
  terminal.print(json);
  return found->missing.empty() ? Exit::done : Exit::needs_builder;
}

Exit run_footage(Terminal& terminal, const FootageArguments& arguments) {
  if (arguments.session.empty() && !arguments.look_in.empty() && arguments.let_go.empty()) {
    auto store = open_journal(arguments.journal);
    return store ? look_in(terminal, *store, std::nullopt, arguments.look_in) : terminal.fail(store.error());
  }
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  if (!arguments.let_go.empty()) return let_go(terminal, *open, arguments);
  if (!arguments.look_in.empty()) return look_in(terminal, open->store, open->session.id, arguments.look_in);
  return list_footage(terminal, *open);
}

}  // namespace

void add_keeping_commands(Commands& commands) {
  auto& footage = commands.keep<FootageArguments>();
  CLI::App* app =
      commands.add("footage", "Where the footage is: present, elsewhere, or let go; Jigtime never deletes any",
                   "jigtime footage elevator.jigtime --session 2026-03-14\n"
                   "  jigtime footage elevator.jigtime --session 2026-03-14 --let-go a1.mp4 --reason \"disk full\"\n"
                   "  jigtime footage elevator.jigtime --look-in /media/archive");
  app->add_option("JOURNAL", footage.journal, "The journal file")->required();
  app->add_option("--session", footage.session, "Day of the session, YYYY-MM-DD");
  CLI::Option* gone = app->add_option("--let-go", footage.let_go, "File name of the clip that is given up on purpose");
  app->add_option("--reason", footage.reason, "Why; it stays in the record")->needs(gone);
  app->add_option("--keep-copy", footage.kept_copy, "A smaller copy that is kept as evidence instead")->needs(gone);
  app->add_option("--look-in", footage.look_in, "Folder to look in for files that were moved")->excludes(gone);
  commands.run(app, [&footage](Terminal& terminal) { return run_footage(terminal, footage); });
}

}  // namespace jigtime::cli
