// Opening and closing journals, and what follows a new snapshot.
#include <algorithm>

#include "actions/shop.h"
#include "actions/zone.h"
#include "app/backroom/settings_file.h"
#include "app/deeds.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

namespace fs = std::filesystem;

/// Another session at the bench: nothing selected, the whole day shown, nothing half tagged.
void begin_session(Model& model, const BenchView& view) {
  const std::string task = model.bench.composer.task();
  model.bench = BenchState{};
  model.bench.session = view.record.session.id;
  model.bench.composer.choose_task(task);
  if (task.empty() && !view.recent.empty()) model.bench.composer.choose_task(view.recent.front());
  for (const journal::Person& person : model.snapshot->known.people) {
    if (person.role == journal::Role::builder && !person.shelf.archived && !person.shelf.merged) {
      model.bench.composer.toggle_person(person.name);
      break;
    }
  }
}

ImportLine line_for(const fs::path& path) {
  std::error_code ignored;
  const fs::path named = fs::is_directory(path, ignored) ? path : path.parent_path();
  return {to_utf8(named.filename().string()), path};
}

/// A name of which there is no journal yet in the usual folder.
std::string free_build_name() {
  const std::string usual = say(Word::build_usual);
  std::string name = usual;
  std::error_code ignored;
  for (int number = 2; fs::exists(documents_folder() / (name + ".jigtime"), ignored); ++number)
    name = usual + " " + std::to_string(number);
  return name;
}

/// Footage that no journal is open for: one is offered to be made for it.
void keep_for_new_journal(Model& model, const std::vector<fs::path>& paths) {
  StartState& start = model.start;
  for (const fs::path& path : paths) start.footage.push_back(line_for(path));
  if (!start.new_open) start.zone = actions::Zone::here();
  if (trimmed(start.build).empty()) start.build = free_build_name();
  start.new_open = true;
  model.screen = Screen::start;
  model.tell({std::string{say(Word::drop_makes_journal)}, false});
}

/// What was dropped before the journal opened.
void take_footage_waiting(Model& model) {
  if (model.start.footage.empty()) return;
  model.sessions.lines = std::move(model.start.footage);
  model.screen = Screen::sessions;
  const bool at_once = model.start.import_at_once;
  model.start = StartState{};
  if (at_once) import_footage(model);
}

template <class Things>
bool holds(const Things& things, std::int64_t id) {
  return std::any_of(things.begin(), things.end(), [&](const auto& one) { return one.id.value == id; });
}

/// What was selected may be gone.
void forget_what_is_gone(BenchState& bench, const BenchView& view) {
  const journal::SessionRecord& record = view.record;
  std::erase_if(bench.selected, [&](std::int64_t id) { return !holds(record.spans, id); });
  if (bench.mark && !holds(record.marks, *bench.mark)) bench.mark.reset();
  if (bench.clip && !holds(record.clips, *bench.clip)) bench.clip.reset();
  if (bench.proposal && !holds(record.proposals, *bench.proposal)) bench.proposal.reset();
}

void take_snapshot(Model& model, std::shared_ptr<const Snapshot> snapshot) {
  const bool first = model.opening;
  const bool footage_changed = model.copies_changed || !model.bench_view() || !snapshot->bench ||
                               model.view().record.placements != snapshot->bench->record.placements ||
                               model.view().record.session.id != snapshot->bench->record.session.id;
  model.opening = false;
  model.snapshot = std::move(snapshot);
  const BenchView* view = model.bench_view();
  if (view != nullptr && view->record.session.id != model.bench.session) begin_session(model, *view);
  if (view != nullptr) forget_what_is_gone(model.bench, *view);
  if (footage_changed) {
    model.playback.load(view);
    model.copies_changed = false;
    read_loudness(model);
  }
  if (!first) return;
  if (!model.snapshot->read_only.empty()) model.tell({model.snapshot->read_only, true});
  model.screen = view != nullptr && !view->rows.empty ? Screen::bench : Screen::sessions;
  take_footage_waiting(model);
}

}  // namespace

void close_journal(Model& model) {
  model.playback.pause();
  model.playback.load(nullptr);
  model.desk.reset();
  model.lock.reset();
  model.snapshot.reset();
  model.asked_session = {};
  model.bench = BenchState{};
  model.sessions = SessionsState{};
  model.fasteners = FastenersState{};
  model.names = NamesState{};
  model.ledger = LedgerState{};
  model.items = ItemsState{};
  model.find = FindState{};
  model.screen = Screen::start;
}

void open_journal(Model& model, const fs::path& given) {
  if (model.jobs.running()) return model.tell({std::string{say(Word::jobs_first)}, true});
  std::error_code ignored;
  const fs::path path = fs::absolute(given, ignored);
  auto lock = Lock::take(path);
  if (!lock) return model.tell({lock.error().message(), true});
  close_journal(model);
  model.lock.emplace(std::move(*lock));
  model.opening = true;
  Desk::Replies replies;
  replies.snapshot = [&model, path](std::shared_ptr<const Snapshot> snapshot) {
    if (model.opening) {
      remember(model.settings, path);
      (void)save_settings(model.settings);
    }
    take_snapshot(model, std::move(snapshot));
  };
  replies.told = [&model](Told told) { model.tell(std::move(told)); };
  replies.not_opened = [&model](const Error& error) {
    model.opening = false;
    model.tell({error.message(), true});
    close_journal(model);
  };
  model.desk = std::make_unique<Desk>(path, model.mailbox, std::move(replies));
}

void new_journal(Model& model, const fs::path& path, const journal::Build& build) {
  {
    const auto made = actions::new_journal(path, build);
    if (!made) return model.tell({made.error().message(), true});
  }
  model.start.new_open = false;
  model.start.import_at_once = !model.start.footage.empty();
  open_journal(model, path);
}

void take_dropped(Model& model, const std::vector<fs::path>& paths) {
  std::error_code ignored;
  for (const fs::path& path : paths) {
    if (path.extension() == ".jigtime" && fs::is_regular_file(path, ignored)) return open_journal(model, path);
  }
  if (!model.desk) return keep_for_new_journal(model, paths);
  for (const fs::path& path : paths) model.sessions.lines.push_back(line_for(path));
  model.screen = Screen::sessions;
}

void undo(Model& model) {
  if (!model.desk) return;
  model.desk->do_it([](store::Store& store) -> Result<std::string> {
    const auto change = actions::undo(store);
    if (!change) return change.error();
    return say(Word::undone, {change->label});
  });
}

void redo(Model& model) {
  if (!model.desk) return;
  model.desk->do_it([](store::Store& store) -> Result<std::string> {
    const auto change = actions::redo(store);
    if (!change) return change.error();
    return say(Word::done_again, {change->label});
  });
}

void look_at_session(Model& model, journal::SessionId session) {
  if (!model.desk) return;
  model.asked_session = session;
  model.desk->look_at(session);
}

void go_to(Model& model, journal::SessionId session, std::optional<SessionTime> at) {
  if (!model.desk) return;
  model.screen = Screen::bench;
  const bool another_comes = model.asked_session.value != 0 && model.asked_session != session;
  if (session == model.bench.session && !another_comes) {  // fetched while the desk may still be busy
    if (at) model.playback.show(*at);
    return;
  }
  look_at_session(model, session);
  // Behind the snapshot of that session, since letters come in order.
  model.desk->ask([&model, at](store::Store&) -> std::function<void()> {
    return [&model, at] {
      if (at) model.playback.show(*at);
    };
  });
}

}  // namespace jigtime::app
