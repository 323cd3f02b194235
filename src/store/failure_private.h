// SQLite's failures, told to a builder.
#pragma once

#include <exception>
#include <filesystem>
#include <string>

#include "base/result.h"

struct sqlite3;

namespace jigtime::store {

/// The path in quotes, fit to be shown.
std::string shown(const std::filesystem::path& path);

/// `handle` may be null; it tells the system's error number where SQLite knows one.
Error error_of(const std::exception& exception, const std::filesystem::path& path, sqlite3* handle);

/// Whether a write failed because there is no more room. What SQLite says of the system's error is often that of a
/// later call, when a commit was already taken back; the files of the handle (it may be null) remember their own.
bool found_no_room(const std::exception& exception, sqlite3* handle);

Error denied(const std::filesystem::path& path);
Error not_a_journal(const std::filesystem::path& path, const std::string& why);

}  // namespace jigtime::store
