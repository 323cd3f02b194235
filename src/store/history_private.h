// What one edit changed, as SQLite's change set: the ground for undo, kept in the journal from its first edit on.
// Must never know: the record's values.
// Begin reading at: History.
#pragma once

#include <memory>
#include <string_view>

#include "store/database_private.h"

struct sqlite3_session;

namespace jigtime::store {

/// Follows the record's tables from its making on. Lives inside one transaction.
class History {
 public:
  explicit History(Database& database);
  /// Writes one row of the table edit, unless no row of the record was changed.
  void write(std::string_view label, std::string_view who);

 private:
  struct Release {
    void operator()(sqlite3_session* session) const;
  };
  Database& database_;
  std::unique_ptr<sqlite3_session, Release> session_;
};

}  // namespace jigtime::store
