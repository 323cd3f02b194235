// Debian builds SQLite with both; the header declares the session functions only when told so.
#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <set>

#include "base/text.h"
#include "store/query_private.h"
#include "store/schema.h"
#include "store/sealed_rows_private.h"
#include "store/undo_private.h"
#include "store/words.h"

namespace jigtime::store {
namespace {

constexpr Word<Change::Deed> deed_words[] = {
    {Change::Deed::edit, "edit"}, {Change::Deed::undo, "undo"}, {Change::Deed::redo, "redo"}};

struct FreeMemory {
  void operator()(void* memory) const { sqlite3_free(memory); }
};

/// The edits that hold and those taken back, both with the last one at the end.
struct Stacks {
  std::vector<std::int64_t> done;
  std::vector<std::int64_t> undone;
};

/// False when it is not there. Mostly it is the last.
bool take_out(std::vector<std::int64_t>& ids, std::int64_t id) {
  const auto found = std::find(ids.rbegin(), ids.rend(), id);
  if (found == ids.rend()) return false;
  ids.erase(std::next(found).base());
  return true;
}

Stacks read_stacks(Database& database) {
  Stacks stacks;
  Query row{database, "SELECT id, deed, target FROM edit ORDER BY id"};
  while (row.next()) {
    switch (value_in(row, 1, deed_words)) {
      case Change::Deed::edit:
        stacks.done.push_back(row.integer(0));
        stacks.undone.clear();
        break;
      case Change::Deed::undo:
        if (!take_out(stacks.done, row.integer(2))) throw Damaged{"its history has a gap"};
        stacks.undone.push_back(row.integer(2));
        break;
      case Change::Deed::redo:
        if (stacks.undone.empty() || stacks.undone.back() != row.integer(2)) throw Damaged{"its history has a gap"};
        stacks.done.push_back(stacks.undone.back());
        stacks.undone.pop_back();
        break;
    }
  }
  return stacks;
}

struct Edited {
  std::string label;
  std::string changes;
};

Edited read_edit(Database& database, std::int64_t id) {
  Query row{database, "SELECT label, changes FROM edit WHERE id = ?1"};
  if (!row.with(id).next()) throw Damaged{"its history has a gap"};
  return {row.text(0), row.bytes(1)};
}

/// Calls `seen` with the table and SQLite's code (SQLITE_INSERT ...) of each row of a change set.
template <class Seen>
void each_row(std::string& changes, Seen seen) {
  sqlite3_changeset_iter* rows = nullptr;
  if (sqlite3changeset_start(&rows, static_cast<int>(changes.size()), changes.data()) != SQLITE_OK) {
    throw Damaged{"its history cannot be read"};
  }
  while (sqlite3changeset_next(rows) == SQLITE_ROW) {
    const char* table = nullptr;
    int columns = 0;
    int code = 0;
    int indirect = 0;
    sqlite3changeset_op(rows, &table, &columns, &code, &indirect);
    seen(std::string{table}, code);
  }
  if (sqlite3changeset_finalize(rows) != SQLITE_OK) throw Damaged{"its history cannot be read"};
}

std::string inverse_of(std::string& changes) {
  int size = 0;
  void* bytes = nullptr;
  const int code = sqlite3changeset_invert(static_cast<int>(changes.size()), changes.data(), &size, &bytes);
  const std::unique_ptr<void, FreeMemory> owner{bytes};
  if (code != SQLITE_OK) throw Damaged{"its history cannot be read"};
  return {static_cast<const char*>(bytes), static_cast<std::size_t>(size)};
}

/// Why a change set does not fit the journal as it is.
enum class Obstacle {
  none,
  sealed,   ///< it concerns a sealed session
  altered,  ///< its rows are no longer as they were
  needed,   ///< rows that stay refer to what it takes out
};

struct Applying {
  sqlite3* handle;
  Obstacle obstacle = Obstacle::none;
};

int on_conflict(void* context, int, sqlite3_changeset_iter*) {
  auto* const applying = static_cast<Applying*>(context);
  const std::string said = sqlite3_errmsg(applying->handle);
  applying->obstacle = said.find(sealed_signal) != std::string::npos ? Obstacle::sealed : Obstacle::altered;
  return SQLITE_CHANGESET_ABORT;
}

/// Changes nothing when there is an obstacle.
Obstacle apply(Database& database, std::string& changes) {
  database.exec("SAVEPOINT applying");
  Applying applying{database.getHandle()};
  const int code = sqlite3changeset_apply(database.getHandle(), static_cast<int>(changes.size()), changes.data(),
                                          nullptr, on_conflict, &applying);
  if (applying.obstacle == Obstacle::none) {
    if (code != SQLITE_OK) throw SQLite::Exception{database.getHandle(), code};
    if (Query{database, "PRAGMA foreign_key_check"}.next()) applying.obstacle = Obstacle::needed;
  }
  if (applying.obstacle != Obstacle::none) database.exec("ROLLBACK TO applying");
  database.exec("RELEASE applying");
  return applying.obstacle;
}

Error error_of(Obstacle obstacle, const std::string& label) {
  switch (obstacle) {
    case Obstacle::sealed:
      return {Code::conflict, "\"" + label +
                                  "\" concerns a session that is sealed by now, so it stays. Amend the sealed entry "
                                  "instead (jigtime amend)."};
    case Obstacle::needed: return {Code::conflict, "Something that came later needs \"" + label + "\", so it stays."};
    default:
      return {Code::conflict,
              "\"" + label + "\" no longer fits what the journal holds, so it stays. Change the record by hand."};
  }
}

bool holds_seal(std::string& changes) {
  bool holds = false;
  each_row(changes, [&](const std::string& table, int) {
    holds = holds || table == "entry" || table == "amendment" || table == "signature";
  });
  return holds;
}

Change write_line(Database& database, Change change) {
  change.at = std::chrono::time_point_cast<Length>(std::chrono::system_clock::now());
  change.id = Query{database,
                    "INSERT INTO edit (at_ns, label, changes, who, deed, target) VALUES (?1, ?2, x'', ?3, ?4, ?5) "
                    "RETURNING id"}
                  .with(change.at, std::string_view{change.label}, std::string_view{change.who},
                        word_for(deed_words, change.deed), change.target)
                  .run_for_id();
  return change;
}

/// What the builder calls the rows of a table; empty for those that hang on others.
std::string noun_of(const std::string& table) {
  static const std::map<std::string, std::string> nouns{{"build", "build"},
                                                        {"person", "person"},
                                                        {"assembly", "assembly"},
                                                        {"checklist", "checklist"},
                                                        {"task", "task"},
                                                        {"camera", "camera"},
                                                        {"planned", "planned line"},
                                                        {"session", "session"},
                                                        {"clip", "clip"},
                                                        {"part", "file"},
                                                        {"placement", "placement"},
                                                        {"span", "span"},
                                                        {"mark", "mark"},
                                                        {"tie", "tie"},
                                                        {"proposal", "proposal"},
                                                        {"inspection", "inspection"},
                                                        {"item", "open item"},
                                                        {"item_closing", "closing"},
                                                        {"photo", "photo"},
                                                        {"still", "still"},
                                                        {"entry", "entry"},
                                                        {"amendment", "amendment"},
                                                        {"signature", "signature"},
                                                        {"unreadable", "unreadable file"},
                                                        {"let_go", "clip let go"},
                                                        {"span_person", "name in a span"},
                                                        {"span_fastener", "fastener line"}};
  const auto found = nouns.find(table);
  return found == nouns.end() ? std::string{} : found->second;
}

std::string verb_of(int code) {
  if (code == SQLITE_INSERT) return "added";
  return code == SQLITE_DELETE ? "taken out" : "changed";
}

std::string plural_of(const std::string& noun) {
  if (noun == "person") return "people";
  if (noun == "assembly") return "assemblies";
  if (noun == "name in a span") return "names in spans";
  return noun == "clip let go" ? "clips let go" : noun + "s";
}

/// "2 spans added, 1 mark taken out".
std::string what_changed(std::string& changes) {
  std::vector<std::string> words;
  std::map<std::pair<std::string, std::string>, int> counts;
  std::vector<std::pair<std::string, std::string>> order;
  each_row(changes, [&](const std::string& table, int code) {
    const std::pair key{noun_of(table), verb_of(code)};
    if (!key.first.empty() && counts[key]++ == 0) order.push_back(key);
  });
  std::string text;
  for (const auto& key : order) {
    const int count = counts[key];
    const std::string noun = count == 1 ? key.first : plural_of(key.first);
    text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + noun + " " + key.second;
  }
  return text;
}

}  // namespace

Result<Change> undo_last(Database& database, std::string_view who) {
  const Stacks stacks = read_stacks(database);
  if (stacks.done.empty()) return Error{Code::not_found, "There is nothing to undo."};
  int passed_over = 0;
  for (auto id = stacks.done.rbegin(); id != stacks.done.rend(); ++id, ++passed_over) {
    Edited edited = read_edit(database, *id);
    if (holds_seal(edited.changes)) continue;
    std::string inverse = inverse_of(edited.changes);
    const Obstacle obstacle = apply(database, inverse);
    if (obstacle == Obstacle::none) {
      Change change = write_line(database, {0, {}, std::string{who}, edited.label, Change::Deed::undo, *id});
      change.what = what_changed(edited.changes);
      change.passed_over = passed_over;
      return change;
    }
    // What needs an edit that stays has to stay with it; without such an edit something else is wrong.
    if (obstacle != Obstacle::sealed && passed_over == 0) return error_of(obstacle, edited.label);
  }
  return Error{Code::conflict, "The last thing done was \"" + read_edit(database, stacks.done.back()).label +
                                   "\". What is sealed stays sealed, and nothing older can be taken back without it. "
                                   "If something in it is wrong, amend it (jigtime amend)."};
}

Result<Change> redo_last(Database& database, std::string_view who) {
  const Stacks stacks = read_stacks(database);
  if (stacks.undone.empty()) {
    return Error{Code::not_found, "There is nothing to do again: nothing was undone since the last edit."};
  }
  Edited edited = read_edit(database, stacks.undone.back());
  if (const Obstacle obstacle = apply(database, edited.changes); obstacle != Obstacle::none) {
    return error_of(obstacle, edited.label);
  }
  Change change =
      write_line(database, {0, {}, std::string{who}, edited.label, Change::Deed::redo, stacks.undone.back()});
  change.what = what_changed(edited.changes);
  return change;
}

std::vector<Change> read_history(Database& database, int most) {
  std::vector<Change> changes;
  const Stacks stacks = read_stacks(database);
  const std::set<std::int64_t> done(stacks.done.begin(), stacks.done.end());
  const SealedRows sealed{database};
  Query row{database,
            "SELECT id, at_ns, who, label, deed, target, changes FROM edit ORDER BY id DESC LIMIT max(?1, 0)"};
  row.with(most);
  while (row.next()) {
    Change change{row.integer(0), row.point<WallTime>(1), row.text(2), row.text(3), value_in(row, 4, deed_words)};
    if (!row.is_null(5)) change.target = row.integer(5);
    change.undone = change.deed == Change::Deed::edit && !done.contains(change.id);
    if (change.deed == Change::Deed::edit) {
      std::string bytes = row.bytes(6);
      change.what = what_changed(bytes);
      change.stays = sealed.hold(bytes);
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

}  // namespace jigtime::store
