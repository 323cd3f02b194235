// Which edits of the history stay because of a seal, told without trying them.
// Must never know: how an edit is taken back.
// Begin reading at: SealedRows::hold.
//
// Throws what Query throws.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>

#include "store/database_private.h"

namespace jigtime::store {

/// Rows of sealed sessions as they are now.
class SealedRows {
 public:
  explicit SealedRows(Database& database);

  /// True for a change set that seals, amends or signs, or that touches a row of a sealed session.
  bool hold(std::string& changes) const;

 private:
  std::set<std::int64_t> sessions_;
  std::map<std::string, std::set<std::int64_t>> rows_;  ///< by table: ids of rows whose session is sealed
};

}  // namespace jigtime::store
