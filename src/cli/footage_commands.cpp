#include "actions/by_hand.h"
#include "actions/import.h"
#include "actions/line_up.h"
#include "actions/propose.h"
#include "actions/why_there.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"
#include "cli/session_json.h"

namespace jigtime::cli {
namespace {

struct ImportArguments {
  std::string journal;
  std::string session;
  std::vector<std::string> cameras;
};

Result<actions::ImportRequest> request_of(const ImportArguments& arguments) {
  actions::ImportRequest request;
  if (!arguments.session.empty()) {
    const auto date = date_of(arguments.session);
    if (!date) return date.error();
    request.session = *date;
  }
  for (const std::string& text : arguments.cameras) {
    const std::size_t at = text.find('=');
    if (at == std::string::npos || at == 0 || at + 1 == text.size()) {
      return Error{Code::invalid,
                   "--camera: \"" + text + "\" is not of the form NAME=PATH, for example bench=/media/card1."};
    }
    request.folders.push_back({text.substr(0, at), text.substr(at + 1)});
  }
  return request;
}

Json import_json(const actions::ImportReport& report) {
  Json json;
  json["clips"] = Json::array();
  for (const actions::ImportedClip& clip : report.clips) {
    Json files = Json::array();
    for (const auto& file : clip.files) files.push_back(shown(file.filename().string()));
    json["clips"].push_back({{"camera", clip.camera},
                             {"session", to_text(clip.session)},
                             {"files", files},
                             {"duration_s", to_seconds(clip.length)}});
  }
  json["unreadable"] = Json::array();
  for (const auto& file : report.unreadable) {
    json["unreadable"].push_back(
        {{"camera", file.camera}, {"file", shown(file.path.filename().string())}, {"why", shown(file.why)}});
  }
  json["known_already"] = report.known_already;
  json["relinked"] = report.relinked;
  json["left_out"] = report.left_out;
  json["notes"] = Json::array();
  for (const std::string& note : report.notes) json["notes"].push_back(shown(note));
  return json;
}

void say_import(Terminal& terminal, const actions::ImportReport& report) {
  for (const actions::ImportedClip& clip : report.clips) {
    std::string names;
    for (const auto& file : clip.files) names += (names.empty() ? "" : " + ") + shown(file.filename().string());
    terminal.say(to_text(clip.session) + "  " + clip.camera + "  " + names + "  " + to_clock_text(clip.length));
  }
  const auto count = [](std::size_t n, const std::string& what) {
    return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
  };
  terminal.say(count(report.clips.size(), "clip") + " added, " +
               count(static_cast<std::size_t>(report.known_already), "file") + " already in the journal, " +
               std::to_string(report.relinked) + " found at a new place, " + std::to_string(report.left_out) +
               " left out as no footage.");
  for (const std::string& note : report.notes) terminal.say(shown(note));
  for (const auto& file : report.unreadable) {
    terminal.say("Could not be read: " + shown(file.path.filename().string()) + " (" + file.camera + ")  " +
                 shown(file.why));
  }
}

Exit run_import(Terminal& terminal, const ImportArguments& arguments) {
  const auto request = request_of(arguments);
  if (!request) return terminal.fail(request.error());
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto report = actions::import_footage(*store, *request, terminal.watch());
  if (!report) return terminal.fail(report.error());
  say_import(terminal, *report);
  terminal.print(import_json(*report));
  const bool nothing = report->clips.empty() && report->known_already == 0 && report->relinked == 0;
  if (nothing && report->unreadable.empty()) terminal.note("There is no footage in what was given.");
  return nothing || !report->unreadable.empty() ? Exit::needs_builder : Exit::done;
}

struct AlignArguments {
  std::string journal;
  std::string session;
  std::string explain{};
};

/// Changes nothing, so that it also tells of sealed sessions.
Exit run_explain(Terminal& terminal, const AlignArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  std::optional<journal::SessionId> session;
  if (!arguments.session.empty()) {
    const auto date = date_of(arguments.session);
    if (!date) return terminal.fail(date.error());
    const auto found = store->session(*date);
    if (!found) return terminal.fail(found.error());
    session = found->id;
  }
  const auto why = actions::why_there(*store, arguments.explain, session);
  if (!why) return terminal.fail(why.error());
  const auto of = store->record(why->session);
  if (!of) return terminal.fail(of.error());
  terminal.say(shown(why->file) + " of " + shown(why->camera) + ", session " + to_text(of->session.date));
  for (const std::string& sentence : why->sentences) terminal.say("  " + shown(sentence));
  terminal.print({{"session", to_text(of->session.date)},
                  {"camera", why->camera},
                  {"file", why->file},
                  {"basis", std::string{to_text(why->basis)}},
                  {"sentences", why->sentences}});
  return Exit::done;
}

Exit run_align(Terminal& terminal, const AlignArguments& arguments) {
  if (!arguments.explain.empty()) return run_explain(terminal, arguments);
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  auto sessions = store->sessions();
  if (!sessions) return terminal.fail(sessions.error());
  if (!arguments.session.empty()) {
    const auto date = date_of(arguments.session);
    if (!date) return terminal.fail(date.error());
    const auto session = store->session(*date);
    if (!session) return terminal.fail(session.error());
    sessions = std::vector{*session};
  }
  if (sessions->empty()) {
    return terminal.fail(
        {Code::not_found, "The journal has no session yet. Import some footage first: jigtime import."});
  }
  Json documents = Json::array();
  bool asks = false;
  for (const journal::Session& session : *sessions) {
    const auto record = actions::line_up_session(*store, session.id, terminal.watch());
    if (!record) {
      // One sealed or empty session does not stop the others when all were asked for.
      if (sessions->size() == 1 || record.error().code() == Code::cancelled) return terminal.fail(record.error());
      terminal.note(shown(record.error().message()));
      asks = asks || record.error().code() != Code::conflict;
      continue;
    }
    const auto known = store->known();
    if (!known) return terminal.fail(known.error());
    if (sessions->size() > 1) terminal.say("Session " + to_text(session.date));
    say_line_up(terminal, *known, *record);
    documents.push_back(line_up_json(*known, *record));
    asks = asks || needs_builder(*record);
  }
  terminal.print(sessions->size() == 1 ? documents.front() : Json{{"sessions", documents}});
  return asks ? Exit::needs_builder : Exit::done;
}

struct PlaceArguments {
  std::string journal;
  std::string session;
  std::string clip;
  std::string at;
};

Exit run_place(Terminal& terminal, const PlaceArguments& arguments) {
  const auto at = time_of(arguments.at, "--at");
  if (!at) return terminal.fail(at.error());
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  if (const Done placed = actions::place_clip(open->store, open->session.id, arguments.clip, *at); !placed)
    return terminal.fail(placed.error());
  const auto record = open->store.record(open->session.id);
  if (!record) return terminal.fail(record.error());
  const auto known = open->store.known();
  if (!known) return terminal.fail(known.error());
  terminal.say(shown(arguments.clip) + " begins at " + to_clock_text(*at) +
               ", placed by hand. The next line-up holds it there.");
  terminal.print(line_up_json(*known, *record));
  return Exit::done;
}

struct TieArguments {
  std::string journal;
  std::string session;
  std::vector<std::string> moments;
  std::int64_t remove = 0;
};

Result<actions::FileMoment> moment_of(const std::string& text) {
  const std::size_t equals = text.rfind('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == text.size()) {
    return Error{Code::invalid,
                 "--at: \"" + text + "\" is not of the form FILE=H:MM:SS.mmm, for example 0042.mp4=0:03:07.250."};
  }
  const auto at = time_of(text.substr(equals + 1), "--at");
  if (!at) return at.error();
  return actions::FileMoment{text.substr(0, equals), at->time_since_epoch()};
}

Json tie_json(const journal::SessionRecord& record, const journal::Tie& tie) {
  const auto end = [&](journal::ClipId clip, ClipTime at) {
    const actions::FileMoment moment = actions::file_moment(record, clip, at);
    return Json{{"file", shown(moment.file_name)}, {"at_s", to_seconds(moment.at)}};
  };
  return {{"id", tie.id.value}, {"a", end(tie.clip_a, tie.at_a)}, {"b", end(tie.clip_b, tie.at_b)}};
}

Done change_ties(OpenSession& open, const TieArguments& arguments) {
  if (arguments.remove != 0) return actions::untie_clips(open.store, open.session.id, {arguments.remove});
  if (arguments.moments.empty()) return {};
  if (arguments.moments.size() != 2) {
    return Error{Code::invalid, "A tie takes two moments: give --at FILE=TIME twice, once for each camera's file."};
  }
  const auto a = moment_of(arguments.moments[0]), b = moment_of(arguments.moments[1]);
  if (!a) return a.error();
  if (!b) return b.error();
  const auto tied = actions::tie_clips(open.store, open.session.id, *a, *b);
  if (!tied) return tied.error();
  return {};
}

Exit run_tie(Terminal& terminal, const TieArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  if (const Done changed = change_ties(*open, arguments); !changed) return terminal.fail(changed.error());
  const auto record = open->store.record(open->session.id);
  if (!record) return terminal.fail(record.error());
  Json ties = Json::array();
  for (const journal::Tie& tie : record->ties) {
    const auto words = [&](journal::ClipId clip, ClipTime at) {
      const actions::FileMoment moment = actions::file_moment(*record, clip, at);
      return shown(moment.file_name) + " at " + to_clock_text(moment.at);
    };
    terminal.say("Tie " + std::to_string(tie.id.value) + ": " + words(tie.clip_a, tie.at_a) + " and " +
                 words(tie.clip_b, tie.at_b));
    ties.push_back(tie_json(*record, tie));
  }
  if (record->ties.empty()) terminal.say("No two clips of this session are tied.");
  if (!arguments.moments.empty() || arguments.remove != 0) terminal.note("The next line-up goes by it: jigtime align.");
  terminal.print({{"ties", ties}});
  return Exit::done;
}

Exit run_detect(Terminal& terminal, const AlignArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto proposals = actions::detect_in_session(open->store, open->session.id, terminal.watch());
  if (!proposals) return terminal.fail(proposals.error());
  Json json{{"session", to_text(open->session.date)}, {"proposals", Json::array()}};
  for (const journal::Proposal& proposal : *proposals) {
    const double confidence = proposal.confidence_permille / 1000.0;
    json["proposals"].push_back({{"kind", to_text(proposal.kind)},
                                 {"begin_s", to_seconds(proposal.begin)},
                                 {"end_s", to_seconds(proposal.end)},
                                 {"count", proposal.count},
                                 {"confidence", confidence}});
    terminal.say(to_clock_text(proposal.begin) + " to " + to_clock_text(proposal.end) + "  " +
                 std::string{to_text(proposal.kind)} + "  x" + std::to_string(proposal.count) + "  sure to " +
                 std::to_string(proposal.confidence_permille / 10) + " %");
  }
  terminal.say(std::to_string(proposals->size()) + " proposals. They count for nothing until you tag what they show.");
  terminal.print(json);
  return Exit::done;
}

}  // namespace

void add_footage_commands(Commands& commands) {
  auto& import = commands.keep<ImportArguments>();
  CLI::App* app = commands.add("import", "Take the cameras' footage into the journal; no footage is copied or changed",
                               "jigtime import elevator.jigtime --session 2026-03-14 --camera bench=/media/card1 "
                               "--camera overhead=/media/card2");
  app->add_option("JOURNAL", import.journal, "The journal file")->required();
  app->add_option("--session", import.session, "Day of the session, YYYY-MM-DD; told from the clocks if left out");
  app->add_option("--camera", import.cameras, "NAME=PATH: a camera's name and a file or folder of it; may be repeated")
      ->required()
      ->take_all()
      ->expected(1);
  commands.run(app, [&import](Terminal& terminal) { return run_import(terminal, import); });

  auto& align = commands.keep<AlignArguments>();
  app = commands.add("align", "Line up all clips of a session on one clock, by sound",
                     "jigtime align elevator.jigtime --session 2026-03-14");
  app->add_option("JOURNAL", align.journal, "The journal file")->required();
  app->add_option("--session", align.session, "Day of the session, YYYY-MM-DD; all sessions if left out");
  app->add_option("--explain", align.explain,
                  "Line up nothing; say in words why the clip that holds this FILE lies where it lies");
  commands.run(app, [&align](Terminal& terminal) { return run_align(terminal, align); });

  auto& place = commands.keep<PlaceArguments>();
  app = commands.add("place", "Place a clip by hand: its file's first picture is at that time on the session clock",
                     "jigtime place elevator.jigtime --session 2026-03-14 --clip 0042.mp4 --at 0:31:07.250");
  app->add_option("JOURNAL", place.journal, "The journal file")->required();
  app->add_option("--session", place.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--clip", place.clip, "File name")->required();
  app->add_option("--at", place.at, "H:MM:SS[.mmm]")->required();
  commands.run(app, [&place](Terminal& terminal) { return run_place(terminal, place); });

  auto& tie = commands.keep<TieArguments>();
  app = commands.add(
      "tie", "Tie two clips at an event that you see or hear in both, for the next line-up; list ties",
      "jigtime tie elevator.jigtime --session 2026-03-14 --at 0042.mp4=0:03:07.250 --at b17.mov=0:00:41.5\n"
      "  jigtime tie elevator.jigtime --session 2026-03-14 --remove 1\n\n"
      "Times count from each file's own first picture. A clip that nothing else places is placed by its tie.");
  app->add_option("JOURNAL", tie.journal, "The journal file")->required();
  app->add_option("--session", tie.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--at", tie.moments, "FILE=H:MM:SS[.mmm], twice")->take_all()->expected(1);
  app->add_option("--remove", tie.remove, "Number of the tie to take out");
  commands.run(app, [&tie](Terminal& terminal) { return run_tie(terminal, tie); });

  auto& detect = commands.keep<AlignArguments>();
  app = commands.add("detect", "Listen for riveting, breaks and signals; what is found is only proposed",
                     "jigtime detect elevator.jigtime --session 2026-03-14");
  app->add_option("JOURNAL", detect.journal, "The journal file")->required();
  app->add_option("--session", detect.session, "Day of the session, YYYY-MM-DD");
  commands.run(app, [&detect](Terminal& terminal) { return run_detect(terminal, detect); });
}

}  // namespace jigtime::cli
