// Working days of all sessions at once. Rows come by the hundred thousand, so SQLite's own interface is used here:
// the wrapper's column objects would cost more than the rows.
#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <memory>
#include <unordered_map>

#include "base/piece.h"
#include "store/damaged.h"
#include "store/reader_private.h"

namespace jigtime::store {
namespace {

using namespace journal;

struct Finalize {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};

/// Rows of numbers.
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
  /// Of a text's bytes; 0 for an empty one.
  char first_letter(int column) const {
    const unsigned char* text = sqlite3_column_text(statement_.get(), column);
    return text == nullptr ? '\0' : static_cast<char>(*text);
  }
  bool is_null(int column) const { return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL; }

 private:
  Database& database_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

using DayPlaces = std::unordered_map<std::int64_t, std::size_t>;

/// Rows of one session mostly stand together: the last place is asked first.
class Finder {
 public:
  explicit Finder(const DayPlaces& places) : places_{places} {}
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
  const DayPlaces& places_;
  std::int64_t last_session_ = -1;
  std::size_t last_place_ = 0;
};

void read_ranges(Database& database, const DayPlaces& places, std::vector<WorkingDay>& days) {
  Finder place_of{places};
  Numbers row{database, "SELECT id, session, kind, begin_ns, end_ns, task, off_camera FROM span ORDER BY id"};
  Numbers person{database, "SELECT span, person FROM span_person ORDER BY span, position"};
  bool more = person.next();
  std::int64_t span_of_person = more ? person.at(0) : 0;
  const auto next_person = [&] {
    more = person.next();
    if (more) span_of_person = person.at(0);
  };
  while (row.next()) {
    const std::int64_t id = row.at(0);
    WorkingDay& day = days[place_of(row.at(1))];
    TaggedRange range{{id}, SessionTime{Length{row.at(3)}}, SessionTime{Length{row.at(4)}}};
    if (row.first_letter(2) == 'b') range.kind = SpanKind::pause;
    if (const std::int64_t task = row.at(5); task != 0 || !row.is_null(5)) range.task = TaskId{task};
    range.off_camera = row.at(6) != 0;
    range.first_person = static_cast<std::uint32_t>(day.people.size());
    while (more && span_of_person < id) next_person();
    for (; more && span_of_person == id; next_person()) day.people.push_back({person.at(1)});
    range.person_count = static_cast<std::uint32_t>(day.people.size()) - range.first_person;
    day.ranges.push_back(range);
  }
}

void read_filmed(Database& database, const DayPlaces& places, std::vector<WorkingDay>& days) {
  Finder place_of{places};
  Numbers row{database,
              "SELECT clip.session, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns FROM piece "
              "JOIN clip ON clip.id = piece.clip"};
  while (row.next()) {
    const Piece piece{ClipTime{Length{row.at(1)}}, ClipTime{Length{row.at(2)}}, SessionTime{Length{row.at(3)}},
                      row.at(4), Length{row.at(5)}};
    const auto range = SessionRange::make(piece.session_start, piece.session_end());
    if (range) days[place_of(row.at(0))].filmed.push_back(*range);
  }
}

}  // namespace

std::vector<WorkingDay> read_working_days(Database& database) {
  std::vector<WorkingDay> days;
  DayPlaces places;
  for (const Session& session : read_sessions(database)) {
    places[session.id.value] = days.size();
    days.push_back({session.id, session.date, {}, {}, {}});
  }
  read_ranges(database, places, days);
  read_filmed(database, places, days);
  return days;
}

}  // namespace jigtime::store
