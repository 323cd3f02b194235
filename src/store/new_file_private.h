// Files that are made: taken so that nobody's is overwritten, and taken away again when that fails.
#pragma once

#include <filesystem>

#include "base/result.h"

namespace jigtime::store {

/// Absolute, so that it never reads as an SQLite URI ("file:...") nor as one of its special names.
Result<std::filesystem::path> usable(const std::filesystem::path& path);

/// Makes the file, empty. invalid when it is there already.
Done reserve(const std::filesystem::path& path);

/// The file and what SQLite keeps beside it.
void take_away(const std::filesystem::path& path);

}  // namespace jigtime::store
