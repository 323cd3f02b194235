// Taking an edit back, and doing it again: change sets applied the other way round.
// Must never know: the record's values.
// Begin reading at: undo_last.
//
// Every function throws what Query throws. Both changing ones must run inside a write transaction with foreign keys
// switched off: rows come back one by one, and a cascade would take what the change set takes itself.
#pragma once

#include <vector>

#include "base/result.h"
#include "store/database_private.h"
#include "store/store.h"

namespace jigtime::store {

Result<Change> undo_last(Database& database, std::string_view who);
Result<Change> redo_last(Database& database, std::string_view who);
std::vector<Change> read_history(Database& database, int most);

}  // namespace jigtime::store
