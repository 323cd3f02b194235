#include <sqlite3.h>

#include "store/query_private.h"

namespace jigtime::store {

std::int64_t Query::integer(int column) const {
  const SQLite::Column value = statement_.getColumn(column);
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
  const SQLite::Column value = statement_.getColumn(column);
  if (value.getType() != SQLITE_TEXT) throw Damaged{"a text is missing"};
  return value.getString();
}

std::string Query::bytes(int column) const {
  const SQLite::Column value = statement_.getColumn(column);
  if (value.getType() != SQLITE_BLOB) throw Damaged{"a file's path or digest is missing"};
  return value.getString();
}

}  // namespace jigtime::store
