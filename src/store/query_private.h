// One prepared statement: binds typed values, reads typed columns.
// Must never know: any table.
// Begin reading at: Query.
#pragma once

#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/time.h"
#include "store/damaged.h"
#include "store/database_private.h"

namespace jigtime::store {

/// Bytes to be kept as they are. On loan.
struct Bytes {
  std::string_view bytes;
};

/// Throws SQLite::Exception and Damaged. Columns count from 0.
class Query {
 public:
  Query(Database& database, const std::string& sql) : database_{database}, statement_{database.take(sql)} {}
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  ~Query() { database_.give_back(std::move(statement_)); }

  /// Begins anew with these values for ?1, ?2 ...
  template <class... Values>
  Query& with(const Values&... values) {
    statement_->reset();
    int index = 0;
    (bind(++index, values), ...);
    return *this;
  }
  bool next() { return statement_->executeStep(); }
  void run() {
    while (next()) continue;
  }
  /// Of an INSERT ... RETURNING id. The connection's "last row id" would be the search table's.
  std::int64_t run_for_id() {
    if (!next()) throw Damaged{"no row came back from an insert"};
    const std::int64_t id = integer(0);
    run();
    return id;
  }

  bool is_null(int column) const { return statement_->isColumnNull(column); }
  std::int64_t integer(int column) const;
  int number(int column) const;
  std::string text(int column) const;
  std::string bytes(int column) const;
  Length length(int column) const { return Length{integer(column)}; }
  template <class Point>
  Point point(int column) const {
    return Point{Length{integer(column)}};
  }
  template <class RowId>
  RowId id(int column) const {
    return {integer(column)};
  }
  template <class RowId>
  std::optional<RowId> optional_id(int column) const {
    if (is_null(column)) return std::nullopt;
    return RowId{integer(column)};
  }

 private:
  void bind(int index, std::int64_t value) { statement_->bind(index, value); }
  void bind(int index, int value) { statement_->bind(index, value); }
  void bind(int index, std::string_view value) { statement_->bind(index, std::string{value}); }
  void bind(int index, Bytes value) {
    statement_->bind(index, static_cast<const void*>(value.bytes.data()), static_cast<int>(value.bytes.size()));
  }
  void bind(int index, Length value) { bind(index, std::int64_t{value.count()}); }
  template <class Clock>
  void bind(int index, std::chrono::time_point<Clock, Length> value) {
    bind(index, value.time_since_epoch());
  }
  template <class Tag>
  void bind(int index, Id<Tag> value) {
    bind(index, value.value);
  }
  template <class Value>
  void bind(int index, const std::optional<Value>& value) {
    if (value) {
      bind(index, *value);
    } else {
      statement_->bind(index);
    }
  }

  Database& database_;
  std::unique_ptr<SQLite::Statement> statement_;
};

}  // namespace jigtime::store
