// Working times of all sessions at once. Rows come by the hundred thousand, so SQLite's own interface is used here:
// the wrapper's column objects would cost more than the rows.
#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <memory>
#include <unordered_map>

#include "store/damaged.h"
#include "store/reader_private.h"

namespace jigtime::store {
namespace {

using namespace journal;

struct Finalize {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};

/// Rows of integers.
class Numbers {
 public:
  Numbers(Database& database, const char* sql) : database_{database} {
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v2(database.getHandle(), sql, -1, &statement, nullptr) != SQLITE_OK) {
      throw SQLite::Exception{database.getHandle()};
    }
    statement_.reset(statement);
  }
  bool next() {
    const int code = sqlite3_step(statement_.get());
    if (code != SQLITE_ROW && code != SQLITE_DONE) throw SQLite::Exception{database_.getHandle(), code};
    return code == SQLITE_ROW;
  }
  std::int64_t at(int column) const { return sqlite3_column_int64(statement_.get(), column); }
  bool is_null(int column) const { return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL; }

 private:
  Database& database_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

using SessionPlaces = std::unordered_map<std::int64_t, std::size_t>;

/// Rows of one session mostly stand together: the last place is asked first.
class Finder {
 public:
  explicit Finder(const SessionPlaces& places) : places_{places} {}
  std::size_t operator()(std::int64_t session) {
    if (session != last_session_) {
      const auto found = places_.find(session);
      if (found == places_.end()) throw Damaged{"a row refers to a session that is gone"};
      last_session_ = session;
      last_place_ = found->second;
    }
    return last_place_;
  }

 private:
  const SessionPlaces& places_;
  std::int64_t last_session_ = -1;
  std::size_t last_place_ = 0;
};

void read_spans(Database& database, const SessionPlaces& places, std::vector<SessionRecord>& records) {
  Finder place_of{places};
  Numbers row{database, "SELECT id, session, kind = 'break', begin_ns, end_ns, task, off_camera FROM span ORDER BY id"};
  Numbers person{database, "SELECT span, person FROM span_person ORDER BY span, position"};
  bool more = person.next();
  while (row.next()) {
    Span& span = records[place_of(row.at(1))].spans.emplace_back();
    span.id = {row.at(0)};
    span.session = {row.at(1)};
    span.kind = row.at(2) != 0 ? SpanKind::pause : SpanKind::work;
    span.begin = SessionTime{Length{row.at(3)}};
    span.end = SessionTime{Length{row.at(4)}};
    if (!row.is_null(5)) span.task = TaskId{row.at(5)};
    span.off_camera = row.at(6) != 0;
    while (more && person.at(0) < span.id.value) more = person.next();
    for (; more && person.at(0) == span.id.value; more = person.next()) span.people.push_back({person.at(1)});
  }
}

void read_pieces(Database& database, const SessionPlaces& places, std::vector<SessionRecord>& records) {
  Finder place_of{places};
  Numbers row{database,
              "SELECT clip.session, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns FROM piece "
              "JOIN clip ON clip.id = piece.clip"};
  while (row.next()) {
    std::vector<Placement>& placements = records[place_of(row.at(0))].placements;
    if (placements.empty()) placements.emplace_back();
    placements.front().pieces.push_back({ClipTime{Length{row.at(1)}}, ClipTime{Length{row.at(2)}},
                                         SessionTime{Length{row.at(3)}}, row.at(4), Length{row.at(5)}});
  }
}

}  // namespace

std::vector<SessionRecord> read_working_times(Database& database) {
  std::vector<SessionRecord> records;
  SessionPlaces places;
  for (Session& session : read_sessions(database)) {
    places[session.id.value] = records.size();
    records.emplace_back().session = std::move(session);
  }
  read_spans(database, places, records);
  read_pieces(database, places, records);
  return records;
}

}  // namespace jigtime::store
