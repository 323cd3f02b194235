// A copy of an open journal, page by page.
#pragma once

#include <filesystem>

#include "base/result.h"
#include "store/database_private.h"

namespace jigtime::store {

/// Copies the journal into the file, which is there and empty. Must run inside a read transaction, so that what others
/// write meanwhile neither shows nor starts the copy anew. no_space when the copy finds no room; else throws
/// SQLite::Exception and Damaged.
Done copy_into(Database& database, const std::filesystem::path& path);

}  // namespace jigtime::store
