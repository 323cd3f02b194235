// What is slow: each runs as a job on a connection of its own, so that edits at the desk go on meanwhile.
#include <algorithm>

#include "actions/export.h"
#include "actions/history.h"
#include "actions/import.h"
#include "actions/line_up.h"
#include "actions/propose.h"
#include "actions/review_copies.h"
#include "actions/sealing.h"
#include "actions/waveform.h"
#include "app/backroom/settings_file.h"
#include "app/deeds.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

/// What a job has to say at its end, and what follows.
struct Outcome {
  Told told;
  std::vector<std::string> report;
  std::function<void(Model&)> then{};
};
using LongDeed = std::function<Result<Outcome>(store::Store&, const actions::Watch&)>;

/// Opens the journal again for the job, and tells and refreshes at the end.
void run(Model& model, Word name, LongDeed deed) {
  if (!model.desk || !model.snapshot) return;
  if (model.jobs.running(say(name))) return model.tell({std::string{say(Word::runs_already)}, true});
  model.jobs.start(say(name),
                   [&model, path = model.snapshot->path,
                    deed = std::move(deed)](const actions::Watch& watch) -> std::function<void()> {
                     Result<Outcome> outcome = Error{Code::internal, ""};
                     if (auto store = actions::open_journal(path)) {
                       outcome = deed(*store, watch);
                     } else {
                       outcome = store.error();
                     }
                     return [&model, path, outcome] {
                       if (!model.desk || !model.snapshot || model.snapshot->path != path) return;
                       model.copies_changed = true;
                       model.desk->refresh();
                       if (!outcome) {
                         const bool asked_for = outcome.error().code() == Code::cancelled;
                         return model.tell({outcome.error().message(), !asked_for});
                       }
                       model.tell(outcome->told);
                       if (!outcome->report.empty()) model.sessions.report = outcome->report;
                       if (outcome->then) outcome->then(model);
                     };
                   });
}

/// One part of a job's bar.
actions::Watch part_of(const actions::Watch& watch, double from, double to) {
  actions::Watch part = watch;
  part.progress = [&watch, from, to](double fraction, std::string_view doing) {
    watch.tell(from + (to - from) * fraction, doing);
  };
  return part;
}

std::string line_up_words(const journal::SessionRecord& record) {
  std::size_t sound = 0;
  std::size_t doubtful = 0;
  std::size_t lost = 0;
  for (const journal::Clip& clip : record.clips) {
    const journal::Placement* placement = record.placement(clip.id);
    const journal::Basis basis = placement == nullptr ? journal::Basis::none : placement->basis;
    (basis == journal::Basis::none ? lost : basis == journal::Basis::clock ? doubtful : sound) += 1;
  }
  return say(Word::lined_up,
             {to_text(record.session.date), std::to_string(sound), std::to_string(doubtful), std::to_string(lost)});
}

Done line_up_days(store::Store& store, const std::vector<std::chrono::year_month_day>& days,
                  const actions::Watch& watch, double from, std::vector<std::string>& report) {
  for (std::size_t i = 0; i < days.size(); ++i) {
    const double share = (1 - from) / static_cast<double>(days.size());
    const double begin = from + share * static_cast<double>(i);
    const auto session = store.session(days[i]);
    if (!session) return session.error();
    const auto record = actions::line_up_session(store, session->id, part_of(watch, begin, begin + share * 0.9));
    if (!record) return record.error();
    report.push_back(line_up_words(*record));
    // Nothing placed with sound: nothing to listen to, which is no failure of the import.
    (void)actions::detect_in_session(store, session->id, part_of(watch, begin + share * 0.9, begin + share));
  }
  return {};
}

void make_copies_of(Model& model, const std::vector<std::chrono::year_month_day>& days) {
  actions::CopySettings settings;
  settings.most_bytes = static_cast<std::uint64_t>(model.settings.copies_gb) << 30U;
  run(model, Word::job_copies, [days, settings](store::Store& store, const actions::Watch& watch) -> Result<Outcome> {
    std::vector<journal::Clip> clips;
    for (const auto day : days) {
      const auto session = store.session(day);
      const auto record = session ? store.record(session->id) : Result<journal::SessionRecord>{session.error()};
      if (!record) return record.error();
      clips.insert(clips.end(), record->clips.begin(), record->clips.end());
    }
    const auto made = actions::make_review_copies(clips, settings, watch);
    if (!made) return made.error();
    const std::string words = say(Word::copies_made, {std::to_string(made->made), std::to_string(made->known_already)});
    return Outcome{{words, false}, made->notes};
  });
}

/// The newest of the days comes to the bench, and its copies are begun.
std::function<void(Model&)> after_import(store::Store& store, std::vector<std::chrono::year_month_day> days) {
  if (days.empty()) return {};
  std::sort(days.begin(), days.end());
  const auto newest = store.session(days.back());
  return [days, id = newest ? newest->id : journal::SessionId{}](Model& model) {
    if (id.value != 0) look_at_session(model, id);
    make_copies_of(model, days);
  };
}

std::vector<std::string> report_of(const actions::ImportReport& import) {
  std::vector<std::string> report{
      say(Word::imported, {std::to_string(import.clips.size()), std::to_string(import.known_already),
                           std::to_string(import.unreadable.size())})};
  for (const actions::UnreadableFile& file : import.unreadable) {
    report.push_back(to_utf8(file.path.filename().string()) + ": " + file.why);
  }
  report.insert(report.end(), import.notes.begin(), import.notes.end());
  return report;
}

Result<Outcome> import_and_line_up(store::Store& store, const actions::ImportRequest& request,
                                   const actions::Watch& watch) {
  const auto import = actions::import_footage(store, request, part_of(watch, 0, 0.3));
  if (!import) return import.error();
  Outcome outcome{{say(Word::import_done), false}, report_of(*import)};
  std::vector<std::chrono::year_month_day> days;
  for (const actions::ImportedClip& clip : import->clips) {
    if (std::find(days.begin(), days.end(), clip.session) == days.end()) days.push_back(clip.session);
  }
  outcome.then = after_import(store, days);
  const Done lined = line_up_days(store, days, watch, 0.3, outcome.report);
  if (!lined) outcome.told = {lined.error().message(), true};
  return outcome;
}

}  // namespace

void import_footage(Model& model) {
  actions::ImportRequest request;
  for (const ImportLine& line : model.sessions.lines) {
    if (trimmed(line.camera).empty()) return model.tell({std::string{say(Word::camera_needs_name)}, true});
    request.folders.push_back({std::string{trimmed(line.camera)}, line.path});
  }
  if (request.folders.empty()) return model.tell({std::string{say(Word::nothing_to_import)}, true});
  if (!trimmed(model.sessions.date).empty()) {
    request.session = parse_date(trimmed(model.sessions.date));
    if (!request.session) return model.tell({std::string{say(Word::date_form)}, true});
  }
  model.sessions.lines.clear();
  model.sessions.report.clear();
  run(model, Word::job_import, [request](store::Store& store, const actions::Watch& watch) {
    return import_and_line_up(store, request, watch);
  });
}

void line_up(Model& model) {
  if (model.bench_view() == nullptr) return;
  const auto day = model.view().record.session.date;
  run(model, Word::job_line_up, [day](store::Store& store, const actions::Watch& watch) -> Result<Outcome> {
    Outcome outcome;
    if (const Done done = line_up_days(store, {day}, watch, 0, outcome.report); !done) return done.error();
    outcome.told = {outcome.report.front(), false};
    return outcome;
  });
}

void detect(Model& model) {
  run(model, Word::job_detect,
      [session = model.bench.session](store::Store& store, const actions::Watch& watch) -> Result<Outcome> {
        const auto found = actions::detect_in_session(store, session, watch);
        if (!found) return found.error();
        return Outcome{{counted(found->size(), Word::heard_one, Word::heard_many), false}, {}};
      });
}

void make_copies(Model& model) {
  if (model.bench_view() != nullptr) make_copies_of(model, {model.view().record.session.date});
}

void read_loudness(Model& model) {
  const BenchView* view = model.bench_view();
  if (view == nullptr || model.jobs.running(say(Word::job_loudness))) return;
  std::vector<journal::Clip> wanted;
  for (const journal::Clip& clip : view->record.clips) {
    if (clip.sound && !model.bench.loudness.contains(clip.id.value)) wanted.push_back(clip);
  }
  if (wanted.empty()) return;
  model.jobs.start(
      say(Word::job_loudness),
      [&model, wanted, session = view->record.session.id](const actions::Watch& watch) -> std::function<void()> {
        auto read = std::make_shared<std::map<std::int64_t, Loudness>>();
        for (std::size_t i = 0; i < wanted.size() && !watch.stop.stop_requested(); ++i) {
          if (auto kept = actions::kept_waveform(wanted[i])) {
            read->emplace(wanted[i].id.value,
                          Loudness{kept->origin, actions::waveform_rate_hz, std::move(kept->peaks)});
          }
          watch.tell(static_cast<double>(i + 1) / static_cast<double>(wanted.size()), wanted[i].name());
        }
        return [&model, session, read] {
          if (model.bench.session == session) model.bench.loudness.merge(*read);
        };
      });
}

void seal(Model& model, journal::SessionId session) {
  if (!model.desk) return;
  model.desk->do_it([session](store::Store& store) -> Result<std::string> {
    const auto sealed = actions::seal_session(store, session, std::chrono::system_clock::now());
    if (!sealed) return sealed.error();
    std::string text = say(Word::sealed_as, {std::to_string(sealed->entry.number)});
    for (const std::string& note : sealed->notes) text += " " + note;
    return text;
  });
}

void amend(Model& model, const Amending& words) {
  if (!model.desk) return;
  model.desk->do_it([words](store::Store& store) -> Result<std::string> {
    const auto entry = actions::amend_session(store, journal::SessionId{words.session}, words.before, words.after,
                                              words.reason, std::chrono::system_clock::now());
    if (!entry) return entry.error();
    return say(Word::amended_as, {std::to_string(entry->number)});
  });
}

void verify(Model& model) {
  model.ledger.verified.reset();
  run(model, Word::job_verify, [](store::Store& store, const actions::Watch& watch) -> Result<Outcome> {
    const auto found = actions::verify_journal(store, watch);
    if (!found) return found.error();
    const bool sound = found->sound() && found->missing.empty();
    return Outcome{{std::string{say(sound ? Word::verified_sound : Word::verified_not)}, !sound},
                   {},
                   [found = *found](Model& window) { window.ledger.verified = found; }};
  });
}

void export_session(Model& model) {
  if (model.bench_view() == nullptr) return;
  const auto& session = model.view().record.session;
  const auto folder =
      model.snapshot->path.parent_path() / (model.snapshot->path.stem().string() + " " + to_text(session.date));
  run(model, Word::job_export,
      [id = session.id, folder](store::Store& store, const actions::Watch& watch) -> Result<Outcome> {
        const auto exported = actions::export_session(store, id, folder, std::chrono::system_clock::now(), watch);
        if (!exported) return exported.error();
        return Outcome{{say(Word::exported_to, {to_utf8(folder.string())}), false}, {}};
      });
}

void search(Model& model) {
  if (!model.desk || model.find.text == model.find.asked) return;
  model.find.asked = model.find.text;
  model.desk->ask([&model, text = model.find.text](store::Store& store) -> std::function<void()> {
    auto hits = store.find(text, 200);
    return [&model, text, hits = std::move(hits)] {
      if (model.find.asked != text) return;  // more was typed meanwhile
      model.find.answered = text;
      model.find.chosen = 0;
      model.find.hits = hits ? *hits : std::vector<store::Hit>{};
      if (!hits) model.tell({hits.error().message(), true});
    };
  });
}

}  // namespace jigtime::app
