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
  json["off_camera"] = span.off_camera;
  return json;
}

std::string span_text(const journal::Register& known, const journal::Span& span) {
  std::string line = "span " + std::to_string(span.id.value) + "  " + to_clock_text(span.begin) + " to " +
                     to_clock_text(span.end) + "  ";
  const journal::Task* task = span.task ? known.task(*span.task) : nullptr;
  if (span.kind == journal::SpanKind::pause) line += task == nullptr ? "break" : "break  ";
  if (task != nullptr) line += task->title;
  std::vector<std::string> people;
  for (const journal::PersonId id : span.people) people.push_back(known.person(id)->name);
  if (!people.empty()) line += "  (" + listed(people) + ")";
  for (const journal::FastenerLine& fasteners : span.fasteners) {
    line += "  " + fasteners.callout + " x " + std::to_string(fasteners.set);
    if (fasteners.drilled > 0) line += ", " + std::to_string(fasteners.drilled) + " drilled out";
  }
  if (span.off_camera) line += "  (off camera)";
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
    terminal.say("mark " + std::to_string(mark.id.value) + "  " + to_clock_text(mark.at) + "  " + mark.note);
  }
  for (const journal::Entry& amendment : record->amendments) {
    terminal.say("Amended: \"" + amendment.before + "\" is \"" + amendment.after + "\" (" + amendment.reason + ")");
  }
  json["sealed"] = record->entry ? Json(record->entry->number) : Json(nullptr);
  terminal.print(json);
  return Exit::done;
}

std::string counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
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
    terminal.say("  " + to_text(session.date) + "  " + counted(record->clips.size(), "clip") + ", " +
                 counted(record->spans.size(), "span") + ", " + counted(record->marks.size(), "mark") +
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
}

}  // namespace jigtime::cli
