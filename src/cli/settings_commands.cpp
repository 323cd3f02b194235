#include "actions/settings.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct BuildArguments {
  std::string journal;
  std::string name;
  std::string registration;
  std::string place;
  std::string zone;
  std::string rounding;
};

/// What an option was given; an empty text is one too.
std::optional<std::string> given(const CLI::Option* option, const std::string& text) {
  return option->count() == 0 ? std::nullopt : std::optional{text};
}

Exit run_build(Terminal& terminal, const std::string& journal, const actions::BuildChange& change) {
  auto store = open_journal(journal);
  if (!store) return terminal.fail(store.error());
  const auto build = actions::change_build(*store, change);
  if (!build) return terminal.fail(build.error());
  terminal.say(build->name + (build->registration.empty() ? "" : ", " + build->registration));
  terminal.say("Place: " + (build->place.empty() ? "not told" : build->place) + "; time zone: " + build->zone +
               "; hours are rounded to: " + std::string{to_text(build->rounding)} +
               "; regime: " + (build->regime.empty() ? "none chosen" : build->regime) + ".");
  terminal.print({{"build", build->name},
                  {"registration", build->registration},
                  {"place", build->place},
                  {"zone", build->zone},
                  {"rounding", to_text(build->rounding)},
                  {"regime", build->regime}});
  return Exit::done;
}

struct ChangeArguments {
  std::string journal;
  std::string session;
  std::string note;
  std::string place;
  std::string began;
  bool began_by_clocks = false;
};

Exit run_session(Terminal& terminal, const ChangeArguments& arguments, actions::SessionChange change, bool with_began) {
  if (with_began) {
    const auto began = time_of(arguments.began, "--began");
    if (!began) return terminal.fail(began.error());
    change.began = began->time_since_epoch();
  }
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto session = actions::change_session(open->store, open->session.id, change);
  if (!session) return terminal.fail(session.error());
  terminal.say(
      "Session " + to_text(session->date) + (session->place.empty() ? "" : ", " + session->place) +
      (session->zero ? ", begun at " + to_text(*session->zero) + (session->zero_fixed ? " as you said" : "") : ""));
  if (!session->note.empty()) terminal.say(session->note);
  Json json{{"session", to_text(session->date)}, {"place", session->place}, {"note", session->note}};
  json["zero"] = session->zero ? Json(to_text(*session->zero)) : Json(nullptr);
  json["zero_fixed"] = session->zero_fixed;
  terminal.print(json);
  return Exit::done;
}

}  // namespace

void add_settings_commands(Commands& commands) {
  auto& build = commands.keep<BuildArguments>();
  CLI::App* app = commands.add("build", "What holds for the whole build; show it, or change what is given",
                               "jigtime build elevator.jigtime --registration CS-XMT --rounding \"0.1 h\"");
  app->add_option("JOURNAL", build.journal, "The journal file")->required();
  CLI::Option* name = app->add_option("--name", build.name, "The aircraft that is being built");
  CLI::Option* registration =
      app->add_option("--registration", build.registration, "Its registration, once it has one");
  CLI::Option* place = app->add_option("--place", build.place, "Where it is built");
  CLI::Option* zone = app->add_option("--zone", build.zone, "Time zone as AREA/CITY");
  CLI::Option* rounding =
      app->add_option("--rounding", build.rounding, "How hours are rounded when shown: none, minute, 0.1 h or 0.25 h");
  commands.run(app, [&build, name, registration, place, zone, rounding](Terminal& terminal) {
    return run_build(terminal, build.journal,
                     {given(name, build.name), given(registration, build.registration), given(place, build.place),
                      given(zone, build.zone), given(rounding, build.rounding)});
  });

  auto& session = commands.keep<ChangeArguments>();
  app = commands.add("session", "What is said about one session as a whole; show it, or change what is given",
                     "jigtime session elevator.jigtime --session 2026-03-14 --place \"Hangar 2\" --note \"cold, 4 C\"");
  app->add_option("JOURNAL", session.journal, "The journal file")->required();
  app->add_option("--session", session.session, "Day of the session, YYYY-MM-DD")->required();
  CLI::Option* note = app->add_option("--note", session.note, "Anything worth keeping about the day");
  CLI::Option* where = app->add_option("--place", session.place, "Where, if not at the build's place");
  CLI::Option* began = app->add_option("--began", session.began,
                                       "H:MM:SS of the day when the session clock stood at zero; holds when clips are "
                                       "lined up, too");
  app->add_flag("--began-by-clocks", session.began_by_clocks,
                "What was said with --began holds no more: the next 'align' asks the cameras' clocks");
  commands.run(app, [&session, note, where, began](Terminal& terminal) {
    return run_session(terminal, session,
                       {given(note, session.note), given(where, session.place), std::nullopt, session.began_by_clocks},
                       began->count() > 0);
  });
}

}  // namespace jigtime::cli
