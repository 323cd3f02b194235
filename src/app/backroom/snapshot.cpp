#include "app/backroom/snapshot.h"

#include <algorithm>

#include "actions/zone.h"
#include "app/view/composer.h"
#include "journal/hours.h"

namespace jigtime::app {
namespace {

Length offset_of(const journal::Session& session, const std::string& zone) {
  if (!session.zero) return Length{0};
  const auto found = actions::Zone::find(zone);
  return found ? found->offset_at(*session.zero) : Length{0};
}

Result<std::vector<SessionLine>> read_sessions(const store::Store& store, const std::vector<journal::Entry>& entries) {
  const auto times = store.working_times();
  if (!times) return times.error();
  std::vector<SessionLine> lines;
  for (const journal::SessionRecord& record : *times) {
    SessionLine line{record.session, journal::count_hours(record), false};
    line.sealed = std::any_of(entries.begin(), entries.end(),
                              [&](const journal::Entry& entry) { return entry.session == record.session.id; });
    lines.push_back(std::move(line));
  }
  std::reverse(lines.begin(), lines.end());
  return lines;
}

}  // namespace

Result<std::shared_ptr<const BenchView>> read_bench(const store::Store& store, const journal::Register& known,
                                                    const journal::Build& build, journal::SessionId session) {
  auto record = store.record(session);
  if (!record) return record.error();
  auto view = std::make_shared<BenchView>();
  view->record = std::move(*record);
  view->hours = journal::count_hours(view->record);
  report::Timeline timeline;
  timeline.build = build;
  timeline.known = known;
  timeline.record = view->record;
  view->day = report::day_of(timeline);
  view->rows = rows_of(view->day, known, view->record);
  view->recent = recent_tasks(known, view->record);
  view->cameras = std::make_shared<const actions::SessionCameras>(actions::cameras_of(view->record, known));
  view->offset = offset_of(view->record.session, build.zone);
  return std::shared_ptr<const BenchView>{std::move(view)};
}

Result<std::shared_ptr<const LedgerView>> read_ledger(const store::Store& store, const journal::Build& build) {
  auto view = std::make_shared<LedgerView>();
  auto entries = store.entries();
  if (!entries) return entries.error();
  view->entries = std::move(*entries);
  auto sessions = read_sessions(store, view->entries);
  if (!sessions) return sessions.error();
  view->sessions = std::move(*sessions);
  for (const auto& [by, table] :
       {std::pair{actions::By::task, &view->by_task}, std::pair{actions::By::assembly, &view->by_assembly},
        std::pair{actions::By::person, &view->by_person}, std::pair{actions::By::month, &view->by_month}}) {
    auto told = actions::tally_hours(store, {by, {}, {}});
    if (!told) return told.error();
    *table = std::move(*told);
  }
  auto rivets = actions::tally_rivets(store);
  if (!rivets) return rivets.error();
  view->rivets = std::move(*rivets);
  auto items = actions::list_items(store, actions::Which::all, actions::today(build.zone));
  if (!items) return items.error();
  view->items = std::move(*items);
  return std::shared_ptr<const LedgerView>{std::move(view)};
}

Undoable undoable(const std::vector<store::Change>& newest_first) {
  Undoable found;
  bool edited_since = false;
  int redone = 0;
  for (const store::Change& change : newest_first) {
    if (change.deed == store::Change::Deed::edit) {
      edited_since = true;
      if (!change.undone && !change.stays && found.undo.empty()) found.undo = change.label;
    } else if (!edited_since && found.redo.empty()) {
      // Each redo did again what the undo before it, counted back, had taken back.
      if (change.deed == store::Change::Deed::redo) {
        ++redone;
      } else if (redone > 0) {
        --redone;
      } else {
        found.redo = change.label;
      }
    }
  }
  return found;
}

}  // namespace jigtime::app
