#include "actions/export.h"
#include "actions/sealing.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct SealArguments {
  std::string journal;
  std::string session;
};

Exit run_seal(Terminal& terminal, const SealArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto sealed = actions::seal_session(open->store, open->session.id, std::chrono::system_clock::now());
  if (!sealed) return terminal.fail(sealed.error());
  Json json{{"session", to_text(open->session.date)},
            {"number", sealed->entry.number},
            {"digest", sealed->entry.digest},
            {"previous", sealed->entry.previous},
            {"notes", Json::array()}};
  terminal.say("Entry " + std::to_string(sealed->entry.number) + " sealed for " + to_text(open->session.date) + ".");
  terminal.say("Digest " + sealed->entry.digest);
  for (const std::string& note : sealed->notes) {
    json["notes"].push_back(shown(note));
    terminal.say(shown(note));
  }
  terminal.say("The entry is your record. Findings are the authority's.");
  terminal.print(json);
  return Exit::done;
}

Exit run_verify(Terminal& terminal, const std::string& journal) {
  const auto store = open_journal(journal);
  if (!store) return terminal.fail(store.error());
  const auto found = actions::verify_journal(*store, terminal.watch());
  if (!found) return terminal.fail(found.error());
  Json json{{"ok", found->sound()}, {"entries", found->entries}, {"faults", Json::array()}, {"missing", Json::array()}};
  for (const std::string& fault : found->faults) {
    json["faults"].push_back(shown(fault));
    terminal.say(shown(fault));
  }
  for (const auto& path : found->missing) {
    json["missing"].push_back(shown(path.string()));
    terminal.say("Not where it was: " + shown(path.string()));
  }
  for (const auto& [key, sentences] : {std::pair{"renamed", &found->renamed}, std::pair{"let_go", &found->let_go}}) {
    json[key] = Json::array();
    for (const std::string& sentence : *sentences) {
      json[key].push_back(shown(sentence));
      terminal.say(shown(sentence));
    }
  }
  json["signed"] = Json::array();
  for (const auto& [number, key] : found->signed_by) {
    json["signed"].push_back({{"entry", number}, {"public_key", key}});
    terminal.say("Entry " + std::to_string(number) + " is signed by the key " + key + ".");
  }
  const std::string entries = std::to_string(found->entries) + (found->entries == 1 ? " entry" : " entries");
  if (!found->sound()) {
    terminal.say(entries + " checked; see above for what does not fit.");
  } else {
    terminal.say(found->entries == 0 ? "Nothing is sealed yet." : entries + ", all as they were sealed.");
  }
  terminal.print(json);
  return found->sound() && found->missing.empty() ? Exit::done : Exit::needs_builder;
}

std::string_view kind_text(store::Hit::Kind kind) {
  switch (kind) {
    case store::Hit::Kind::span: return "span";
    case store::Hit::Kind::mark: return "mark";
    case store::Hit::Kind::item: return "item";
    case store::Hit::Kind::entry: return "entry";
    case store::Hit::Kind::inspection: return "inspection";
    case store::Hit::Kind::photo: return "photo";
    case store::Hit::Kind::session: return "session";
  }
  return "span";
}

struct FindArguments {
  std::string journal;
  std::vector<std::string> words;
};

Exit run_find(Terminal& terminal, const FindArguments& arguments) {
  std::string text;
  for (const std::string& word : arguments.words) text += (text.empty() ? "" : " ") + word;
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto sessions = store->sessions();
  if (!sessions) return terminal.fail(sessions.error());
  const auto hits = store->find(text);
  if (!hits) return terminal.fail(hits.error());
  Json json{{"hits", Json::array()}};
  for (const store::Hit& hit : *hits) {
    std::string date;
    for (const journal::Session& session : *sessions) {
      if (session.id == hit.session) date = to_text(session.date);
    }
    json["hits"].push_back({{"session", date},
                            {"begin_s", hit.begin ? Json(to_seconds(*hit.begin)) : Json(nullptr)},
                            {"kind", kind_text(hit.kind)},
                            {"text", hit.text}});
    terminal.say(date + "  " + (hit.begin ? to_clock_text(*hit.begin) : std::string{"-"}) + "  " +
                 std::string{kind_text(hit.kind)} + "  " + hit.text);
  }
  if (hits->empty()) terminal.say("Nothing found.");
  terminal.print(json);
  return Exit::done;
}

struct ExportArguments {
  std::string journal;
  std::string session;
  std::string folder;
};

Exit run_export(Terminal& terminal, const ExportArguments& arguments) {
  if (arguments.folder.empty()) return terminal.fail({Code::invalid, "--to: name a folder; it is made if need be."});
  const auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto exported = actions::export_session(open->store, open->session.id, arguments.folder,
                                                std::chrono::system_clock::now(), terminal.watch());
  if (!exported) return terminal.fail(exported.error());
  Json json{{"files", Json::array()}, {"notes", Json::array()}};
  for (const auto& file : exported->files) {
    json["files"].push_back(shown(file.string()));
    terminal.say("Wrote " + shown(file.string()));
  }
  for (const std::string& note : exported->notes) {
    json["notes"].push_back(shown(note));
    terminal.say(shown(note));
  }
  terminal.print(json);
  return Exit::done;
}

}  // namespace

void add_record_commands(Commands& commands) {
  auto& seal = commands.keep<SealArguments>();
  CLI::App* app = commands.add("seal", "Seal a session's entry: from then on it cannot be changed",
                               "jigtime seal elevator.jigtime --session 2026-03-14");
  app->add_option("JOURNAL", seal.journal, "The journal file")->required();
  app->add_option("--session", seal.session, "Day of the session, YYYY-MM-DD")->required();
  commands.run(app, [&seal](Terminal& terminal) { return run_seal(terminal, seal); });

  auto& verify = commands.keep<std::string>();
  app =
      commands.add("verify", "Check the journal, its sealed entries and their footage",
                   "jigtime verify elevator.jigtime\n\n"
                   "Footage and photos are known by their size and their first and last 64 KiB: enough to tell which\n"
                   "file it is. A byte changed far inside a long file is not seen; stills lie in the journal whole.");
  app->add_option("JOURNAL", verify, "The journal file")->required();
  commands.run(app, [&verify](Terminal& terminal) { return run_verify(terminal, verify); });

  auto& find = commands.keep<FindArguments>();
  app = commands.add("find", "Find words in everything written", "jigtime find elevator.jigtime smoked rivet");
  app->add_option("JOURNAL", find.journal, "The journal file")->required();
  app->add_option("TEXT", find.words, "Words; beginnings of words will do")->required();
  commands.run(app, [&find](Terminal& terminal) { return run_find(terminal, find); });

  auto& out = commands.keep<ExportArguments>();
  app = commands.add("export", "Write a session into a folder, as files that open anywhere",
                     "jigtime export elevator.jigtime --session 2026-03-14 --to saturday");
  app->add_option("JOURNAL", out.journal, "The journal file")->required();
  app->add_option("--session", out.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--to", out.folder, "Folder; made if need be")->required();
  commands.run(app, [&out](Terminal& terminal) { return run_export(terminal, out); });
}

}  // namespace jigtime::cli
