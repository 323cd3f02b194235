// Brings a journal's tables to the newest format.
// Must never know: the record's values.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "store/database_private.h"

namespace jigtime::store {

/// The format the file says it has; 0 before the first step.
std::int64_t format_of(Database& database);

/// Runs the steps that are still to be done, writes the new format and looks for rows that lead nowhere. Throws, and
/// leaves it to the caller's transaction to undo everything. No trigger answers meanwhile.
void apply_steps(Database& database, const std::vector<std::string>& steps);

}  // namespace jigtime::store
