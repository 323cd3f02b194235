// What the window draws: values read from the journal by the desk's thread after each edit. Never changed once made.
// Begin reading at: Snapshot.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "actions/history.h"
#include "actions/items.h"
#include "actions/rivets.h"
#include "actions/session_cameras.h"
#include "actions/tally.h"
#include "app/view/rows.h"
#include "base/result.h"

namespace jigtime::app {

/// The session at the bench.
struct BenchView {
  journal::SessionRecord record;
  report::Day day;
  StripRows rows;
  std::vector<std::string> recent;  ///< titles for the number keys
  journal::Hours hours;
  std::shared_ptr<const actions::SessionCameras> cameras;
  Length offset{0};  ///< local time minus UTC at the session's zero
};

struct SessionLine {
  journal::Session session;
  journal::Hours hours;
  bool sealed = false;
};

/// What takes a read over all sessions.
struct LedgerView {
  std::vector<SessionLine> sessions;  ///< newest first
  actions::HoursTable by_task;
  actions::HoursTable by_assembly;
  actions::HoursTable by_person;
  actions::HoursTable by_month;
  actions::RivetTable rivets;
  std::vector<journal::Entry> entries;
  std::vector<actions::ItemLine> items;  ///< all, waiting and closed
};

struct Snapshot {
  std::filesystem::path path;
  journal::Build build;
  journal::Register known;
  std::shared_ptr<const BenchView> bench;    ///< nothing while the journal has no session
  std::shared_ptr<const LedgerView> ledger;  ///< nothing until it was first read
  std::string undo;                          ///< what undo would take back; empty for nothing
  std::string redo;
  std::string read_only;  ///< why the journal takes no edit at all; empty where it does
};

/// Reads; errors are the store's.
Result<std::shared_ptr<const BenchView>> read_bench(const store::Store& store, const journal::Register& known,
                                                    const journal::Build& build, journal::SessionId session);
Result<std::shared_ptr<const LedgerView>> read_ledger(const store::Store& store, const journal::Build& build);

/// What the next undo and redo would do, by their labels.
struct Undoable {
  std::string undo;
  std::string redo;
};
Undoable undoable(const std::vector<store::Change>& newest_first);

}  // namespace jigtime::app
