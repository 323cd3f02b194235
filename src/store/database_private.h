// An open SQLite database that keeps its prepared statements: preparing one costs more than running it, the more so
// where triggers hang on the table.
// Must never know: any table.
#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

namespace jigtime::store {

class Database final : public SQLite::Database {
 public:
  using SQLite::Database::Database;

  /// A statement that nobody else is using; prepared now if there is none. Throws SQLite::Exception.
  std::unique_ptr<SQLite::Statement> take(const std::string& sql);
  /// Resets it, so that it holds no snapshot and no text, and keeps it for the next one who wants it.
  void give_back(std::unique_ptr<SQLite::Statement> statement) noexcept;

 private:
  std::unordered_map<std::string, std::vector<std::unique_ptr<SQLite::Statement>>> idle_;
};

}  // namespace jigtime::store
