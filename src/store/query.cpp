#include <sqlite3.h>

#include "store/query_private.h"

namespace jigtime::store {

std::unique_ptr<SQLite::Statement> Database::take(const std::string& sql) {
  std::vector<std::unique_ptr<SQLite::Statement>>& idle = idle_[sql];
  if (idle.empty()) return std::make_unique<SQLite::Statement>(*this, sql);
  std::unique_ptr<SQLite::Statement> statement = std::move(idle.back());
  idle.pop_back();
  return statement;
}

void Database::give_back(std::unique_ptr<SQLite::Statement> statement) noexcept {
  try {
    // What a reset returns is the failure that the last step has already thrown.
    static_cast<void>(statement->tryReset());
    statement->clearBindings();
    idle_[statement->getQuery()].push_back(std::move(statement));
  } catch (const std::exception&) {
    // Without memory to keep it, the statement is just closed.
  }
}

std::int64_t Query::integer(int column) const {
  const SQLite::Column value = statement_->getColumn(column);
  if (value.getType() != SQLITE_INTEGER) throw Damaged{"a number is missing"};
  return value.getInt64();
}

int Query::number(int column) const {
  const std::int64_t value = integer(column);
  if (value < std::numeric_limits<int>::min() || value > std::numeric_limits<int>::max()) {
    throw Damaged{"a number is out of range"};
  }
  return static_cast<int>(value);
}

std::string Query::text(int column) const {
  const SQLite::Column value = statement_->getColumn(column);
  if (value.getType() != SQLITE_TEXT) throw Damaged{"a text is missing"};
  return value.getString();
}

std::string Query::bytes(int column) const {
  const SQLite::Column value = statement_->getColumn(column);
  if (value.getType() != SQLITE_BLOB) throw Damaged{"a file's path or digest is missing"};
  return value.getString();
}

}  // namespace jigtime::store
