// Rows of numbers that come by the hundred thousand: SQLite's own interface, since the wrapper's column objects would
// cost more than the rows.
#pragma once

#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <functional>
#include <memory>
#include <string>
#include <unordered_map>

#include "store/damaged.h"
#include "store/reader_private.h"

namespace jigtime::store {

struct FinalizeStatement {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using StatementPtr = std::unique_ptr<sqlite3_stmt, FinalizeStatement>;

/// One statement without parameters. Throws as the wrapper does.
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
  StatementPtr statement_;
};

/// The values of one row, on loan while it is taken.
class TakenRow {
 public:
  explicit TakenRow(sqlite3_value** values) : values_{values} {}
  std::int64_t at(int column) const { return sqlite3_value_int64(values_[column]); }
  /// Of a text's bytes; 0 for an empty one.
  char first_letter(int column) const {
    const auto* const text = static_cast<const char*>(sqlite3_value_blob(values_[column]));
    return text == nullptr ? '\0' : *text;
  }
  bool is_null(int column) const { return sqlite3_value_type(values_[column]) == SQLITE_NULL; }

 private:
  sqlite3_value** values_;
};

/// Calls `take` with every row of "SELECT columns FROM from", in no certain order. SQLite does so from within one step,
/// in about three quarters of the time that stepping takes. Throws what `take` throws.
void take_rows(Database& database, const std::string& columns, const std::string& from,
               const std::function<void(const TakenRow&)>& take);

/// Makes take_rows() known to a connection; once, before its first use.
void teach_take_row(Database& database);

/// Where each session stands in a list, by its id.
using SessionPlaces = std::unordered_map<std::int64_t, std::size_t>;

/// Rows of one session mostly stand together: the last place is asked first.
class PlaceFinder {
 public:
  explicit PlaceFinder(const SessionPlaces& places) : places_{places} {}
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

}  // namespace jigtime::store
