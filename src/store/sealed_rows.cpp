// Debian builds SQLite with both; the header declares the session functions only when told so.
#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <sqlite3.h>

#include <memory>

#include "store/query_private.h"
#include "store/sealed_rows_private.h"

namespace jigtime::store {
namespace {

/// How the rows of a table belong to a session: by a column of their own, or by the row that their first column (their
/// second, for a part) names. Columns count from 0, as the newest format has them; none is ever moved.
struct Belonging {
  int column;
  const char* of;  ///< "session", or the table of the row that is named
};

const std::map<std::string, Belonging>& belongings() {
  static const std::map<std::string, Belonging> all{
      {"session", {0, "session"}},    {"clip", {1, "session"}},       {"span", {1, "session"}},
      {"mark", {1, "session"}},       {"photo", {1, "session"}},      {"still", {1, "session"}},
      {"proposal", {1, "session"}},   {"unreadable", {0, "session"}}, {"camera_clock", {0, "session"}},
      {"inspection", {7, "session"}}, {"item", {4, "session"}},       {"span_person", {0, "span"}},
      {"span_fastener", {0, "span"}}, {"clip_note", {0, "clip"}},     {"placement", {0, "clip"}},
      {"piece", {0, "clip"}},         {"evidence", {0, "clip"}},      {"placement_note", {0, "clip"}},
      {"part", {1, "clip"}},          {"tie", {1, "clip"}},           {"clock_reading", {0, "part"}},
  };
  return all;
}

constexpr const char* tables_with_session[] = {"clip",  "span",     "mark",       "photo",
                                               "still", "proposal", "inspection", "item"};

struct Finish {
  void operator()(sqlite3_changeset_iter* rows) const { sqlite3changeset_finalize(rows); }
};

/// A number that the row had or has in that column; nothing where the change does not tell.
std::optional<std::int64_t> number_in(sqlite3_changeset_iter* rows, int code, int column) {
  sqlite3_value* value = nullptr;
  const int read =
      code == SQLITE_INSERT ? sqlite3changeset_new(rows, column, &value) : sqlite3changeset_old(rows, column, &value);
  if (read != SQLITE_OK || value == nullptr || sqlite3_value_type(value) != SQLITE_INTEGER) return std::nullopt;
  return sqlite3_value_int64(value);
}

}  // namespace

SealedRows::SealedRows(Database& database) {
  Query session{database, "SELECT session FROM entry"};
  while (session.next()) sessions_.insert(session.integer(0));
  if (sessions_.empty()) return;
  for (const std::string table : tables_with_session) {
    Query row{database, "SELECT id FROM " + table + " WHERE session IN (SELECT session FROM entry)"};
    std::set<std::int64_t>& ids = rows_[table];
    while (row.next()) ids.insert(ids.end(), row.integer(0));
  }
  Query part{database,
             "SELECT part.id FROM part JOIN clip ON clip.id = part.clip WHERE session IN (SELECT session FROM entry)"};
  while (part.next()) rows_["part"].insert(part.integer(0));
}

bool SealedRows::hold(std::string& changes) const {
  if (sessions_.empty()) return false;
  sqlite3_changeset_iter* begun = nullptr;
  if (sqlite3changeset_start(&begun, static_cast<int>(changes.size()), changes.data()) != SQLITE_OK) return false;
  const std::unique_ptr<sqlite3_changeset_iter, Finish> rows{begun};
  while (sqlite3changeset_next(rows.get()) == SQLITE_ROW) {
    const char* name = nullptr;
    int columns = 0;
    int code = 0;
    int indirect = 0;
    sqlite3changeset_op(rows.get(), &name, &columns, &code, &indirect);
    const std::string table{name};
    if (table == "entry" || table == "amendment" || table == "signature") return true;
    const auto belonging = belongings().find(table);
    // Files and photos may be found again after a seal.
    if (belonging == belongings().end() || (code == SQLITE_UPDATE && (table == "part" || table == "photo"))) continue;
    const auto [column, of] = belonging->second;
    const bool by_session = std::string_view{of} == "session";
    if (const auto owner = number_in(rows.get(), code, column)) {
      const auto owners = rows_.find(of);
      if (by_session ? sessions_.contains(*owner) : owners != rows_.end() && owners->second.contains(*owner))
        return true;
    } else if (const auto id = number_in(rows.get(), code, 0); by_session && id) {
      // A change that leaves the session alone tells only which row it is.
      if (const auto ids = rows_.find(table); ids != rows_.end() && ids->second.contains(*id)) return true;
    }
  }
  return false;
}

}  // namespace jigtime::store
