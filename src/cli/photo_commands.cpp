#include "actions/photos.h"
#include "actions/stills.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct PhotosArguments {
  std::string journal;
  std::string session;
  std::vector<std::string> folders;
};

std::string moment_text(const std::optional<SessionTime>& at, Length sigma) {
  if (!at) return "no moment";
  return to_clock_text(*at) + " ± " + to_decimal_text(to_seconds(sigma), 1) + " s";
}

Json moment_json(const std::optional<SessionTime>& at) { return at ? Json(to_seconds(*at)) : Json(nullptr); }

Exit list_photos(Terminal& terminal, const OpenSession& open) {
  const auto record = open.store.record(open.session.id);
  if (!record) return terminal.fail(record.error());
  Json json{{"session", to_text(open.session.date)}, {"photos", Json::array()}};
  for (const journal::Photo& photo : record->photos) {
    json["photos"].push_back({{"file", shown(photo.path.string())},
                              {"camera", photo.camera},
                              {"at_s", moment_json(photo.at)},
                              {"sigma_s", to_seconds(photo.sigma)},
                              {"taken", photo.taken ? Json(shown(photo.taken->text)) : Json(nullptr)},
                              {"digest", photo.identity.hex()},
                              {"note", photo.note}});
    terminal.say(moment_text(photo.at, photo.sigma) + "  " + photo.camera + "  " +
                 shown(photo.path.filename().string()));
  }
  if (record->photos.empty()) terminal.say("The session has no photos yet: --camera NAME=PATH adds some.");
  terminal.print(json);
  return Exit::done;
}

Exit tell(Terminal& terminal, const actions::PhotosReport& report) {
  Json json{{"added", Json::array()},      {"known_already", report.known_already}, {"placed_anew", report.placed_anew},
            {"relinked", report.relinked}, {"other_day", report.other_day},         {"left_out", report.left_out},
            {"notes", Json::array()}};
  bool unplaced = false;
  for (const actions::AddedPhoto& photo : report.added) {
    json["added"].push_back({{"file", shown(photo.path.filename().string())},
                             {"camera", photo.camera},
                             {"at_s", moment_json(photo.at)},
                             {"sigma_s", to_seconds(photo.sigma)}});
    terminal.say(moment_text(photo.at, photo.sigma) + "  " + photo.camera + "  " +
                 shown(photo.path.filename().string()));
    unplaced = unplaced || !photo.at;
  }
  terminal.say(std::to_string(report.added.size()) + " added, " + std::to_string(report.known_already) +
               " known already, " + std::to_string(report.placed_anew) + " placed anew, " +
               std::to_string(report.relinked) + " found at another path, " + std::to_string(report.other_day) +
               " of another day, " + std::to_string(report.left_out) + " files are no picture that can be read.");
  for (const std::string& note : report.notes) {
    json["notes"].push_back(shown(note));
    terminal.say(shown(note));
  }
  terminal.print(json);
  return unplaced ? Exit::needs_builder : Exit::done;
}

Exit run_photos(Terminal& terminal, const PhotosArguments& arguments) {
  std::vector<actions::PhotoFolder> folders;
  for (const std::string& text : arguments.folders) {
    const std::size_t at = text.find('=');
    if (at == std::string::npos || at == 0 || at + 1 == text.size()) {
      return terminal.fail({Code::invalid, "--camera: \"" + text + "\" is not of the form NAME=PATH."});
    }
    folders.push_back({text.substr(0, at), text.substr(at + 1)});
  }
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  if (folders.empty()) return list_photos(terminal, *open);
  const auto report = actions::add_photos(open->store, open->session.id, folders, terminal.watch());
  return report ? tell(terminal, *report) : terminal.fail(report.error());
}

struct StillsArguments {
  std::string journal;
  std::string session;
  std::string at;
  std::string folder;
};

Json kept_json(const actions::KeptStill& kept) { return {{"at_s", to_seconds(kept.at)}, {"digest", kept.digest}}; }

Result<actions::StillsReport> take_stills(Terminal& terminal, OpenSession& open, const StillsArguments& arguments) {
  if (arguments.at.empty()) return actions::keep_stills_of_marks(open.store, open.session.id, terminal.watch());
  const auto at = time_of(arguments.at, "--at");
  if (!at) return at.error();
  const auto kept = actions::keep_still(open.store, open.session.id, *at, terminal.watch());
  if (!kept) return kept.error();
  return actions::StillsReport{{*kept}, 0, {}};
}

Exit run_stills(Terminal& terminal, const StillsArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  Json json{{"kept", Json::array()}, {"known_already", 0}, {"notes", Json::array()}, {"files", Json::array()}};
  bool missing = false;
  if (arguments.folder.empty() || !arguments.at.empty()) {
    const auto report = take_stills(terminal, *open, arguments);
    if (!report) return terminal.fail(report.error());
    for (const actions::KeptStill& kept : report->kept) {
      json["kept"].push_back(kept_json(kept));
      terminal.say(to_clock_text(kept.at) + "  " + kept.digest);
    }
    json["known_already"] = report->known_already;
    terminal.say(std::to_string(report->kept.size()) + " kept, " + std::to_string(report->known_already) +
                 (report->known_already == 1 ? " mark had one already." : " marks had one already."));
    for (const std::string& note : report->notes) {
      json["notes"].push_back(shown(note));
      terminal.say(shown(note));
    }
    missing = !report->notes.empty();
  }
  if (!arguments.folder.empty()) {
    const auto files = actions::write_stills(open->store, open->session.id, arguments.folder);
    if (!files) return terminal.fail(files.error());
    for (const auto& file : *files) {
      json["files"].push_back(shown(file.string()));
      terminal.say("Wrote " + shown(file.string()));
    }
  }
  terminal.print(json);
  return missing ? Exit::needs_builder : Exit::done;
}

}  // namespace

void add_photo_commands(Commands& commands) {
  auto& photos = commands.keep<PhotosArguments>();
  CLI::App* app = commands.add("photos", "Add photos to a session, placed by their camera's clock; or list them",
                               "jigtime photos elevator.jigtime --session 2026-03-14 --camera phone=/media/phone/DCIM");
  app->add_option("JOURNAL", photos.journal, "The journal file")->required();
  app->add_option("--session", photos.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--camera", photos.folders,
                  "NAME=PATH of a photo or a folder; the name of a camera that also filmed, if it did; may be repeated")
      ->take_all()
      ->expected(1);
  commands.run(app, [&photos](Terminal& terminal) { return run_photos(terminal, photos); });

  auto& stills = commands.keep<StillsArguments>();
  app = commands.add("stills", "Keep pictures out of the footage as evidence: of every mark, or of one moment",
                     "jigtime stills elevator.jigtime --session 2026-03-14 --to stills");
  app->add_option("JOURNAL", stills.journal, "The journal file")->required();
  app->add_option("--session", stills.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--at", stills.at, "H:MM:SS[.mmm]: only this moment");
  app->add_option("--to", stills.folder,
                  "Write those the journal keeps as files into this folder; takes none unless --at");
  commands.run(app, [&stills](Terminal& terminal) { return run_stills(terminal, stills); });
}

}  // namespace jigtime::cli
