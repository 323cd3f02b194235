#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <cerrno>

#include "base/text.h"
#include "store/failure_private.h"
#include "store/query_private.h"
#include "store/schema.h"

namespace jigtime::store {
namespace {

bool means_full(int system_error) { return system_error == ENOSPC || system_error == EDQUOT || system_error == EFBIG; }

/// The system's last word on a file of the journal; 0 for none.
int last_error_of(sqlite3_file* file) {
  int number = 0;
  if (file != nullptr && file->pMethods != nullptr) {
    file->pMethods->xFileControl(file, SQLITE_FCNTL_LAST_ERRNO, &number);
  }
  return number;
}

bool is_write(int extended_code) {
  switch (extended_code) {
    case SQLITE_IOERR_WRITE:
    case SQLITE_IOERR_FSYNC:
    case SQLITE_IOERR_DIR_FSYNC:
    case SQLITE_IOERR_TRUNCATE:
    case SQLITE_IOERR_SHMSIZE:
    case SQLITE_IOERR_SHMOPEN: return true;
    default: return false;
  }
}

/// Either of an exception's two codes may be the one that tells more.
int extended_code_of(const SQLite::Exception& exception) {
  constexpr int most_primary = 0xFF;
  return exception.getErrorCode() > most_primary ? exception.getErrorCode() : exception.getExtendedErrorCode();
}

int primary_code_of(const SQLite::Exception& exception) { return exception.getErrorCode() & 0xFF; }

Error no_space(const std::string& journal) {
  return {Code::no_space, "The disk is full: the journal " + journal +
                              " was left as it was. Free some space on its disk and try again."};
}

Error of_constraint(const std::string& said) {
  if (said.find(sealed_signal) != std::string::npos) {
    return {Code::conflict, "The session is sealed and cannot be changed any more."};
  }
  return {Code::conflict, "The record forbids this change (" + said + ")."};
}

Error of_io(const std::string& journal, const SQLite::Exception& exception, sqlite3* handle) {
  if (found_no_room(exception, handle)) return no_space(journal);
  const std::string said = exception.what();
  return {Code::unreadable, "The disk failed while the journal " + journal + " was in use (" + said +
                                "). Nothing was changed. Check the disk, and copy the journal to another one."};
}

Error of_opening(const std::filesystem::path& path, int system_error) {
  if (means_full(system_error)) return no_space(shown(path));
  if (system_error == EMFILE || system_error == ENFILE) {
    return {Code::busy, "Too many files are open to open the journal " + shown(path) + ". Close some and try again."};
  }
  return denied(path);
}

Error of_sqlite(const SQLite::Exception& exception, const std::filesystem::path& path, sqlite3* handle) {
  const std::string journal = shown(path);
  const std::string said = exception.what();
  const int system_error = handle == nullptr ? 0 : sqlite3_system_errno(handle);
  switch (primary_code_of(exception)) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {Code::busy, "Another program is writing to the journal " + journal + ". Try again in a moment."};
    case SQLITE_FULL: return no_space(journal);
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH: return denied(path);
    case SQLITE_CANTOPEN: return of_opening(path, system_error);
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_FORMAT:
    case SQLITE_ERROR:
    case SQLITE_SCHEMA:
      return {Code::unreadable, "The journal " + journal + " is damaged (" + said + "). Go back to a copy of it."};
    case SQLITE_IOERR: return of_io(journal, exception, handle);
    case SQLITE_CONSTRAINT: return of_constraint(said);
    case SQLITE_TOOBIG: return {Code::invalid, "The text is too long for the journal. Shorten it."};
    default: return {Code::internal, "The journal " + journal + " could not be used (" + said + ")."};
  }
}

}  // namespace

bool found_no_room(const std::exception& exception, sqlite3* handle) {
  const auto* const failed = dynamic_cast<const SQLite::Exception*>(&exception);
  if (failed == nullptr) return false;
  if (primary_code_of(*failed) == SQLITE_FULL) return true;
  if (handle == nullptr || !is_write(extended_code_of(*failed))) return false;
  sqlite3_file* journal = nullptr;
  sqlite3_file* log = nullptr;
  sqlite3_file_control(handle, "main", SQLITE_FCNTL_FILE_POINTER, static_cast<void*>(&journal));
  sqlite3_file_control(handle, "main", SQLITE_FCNTL_JOURNAL_POINTER, static_cast<void*>(&log));
  return means_full(sqlite3_system_errno(handle)) || means_full(last_error_of(journal)) ||
         means_full(last_error_of(log));
}

std::string shown(const std::filesystem::path& path) {
  return path.empty() ? "in memory" : "\"" + to_utf8(path.string()) + "\"";
}

Error denied(const std::filesystem::path& path) {
  return {Code::denied, "The journal " + shown(path) +
                            " cannot be written: it or its folder is read-only, or belongs to somebody else. Ask for "
                            "permission, or copy it to a folder of your own."};
}

Error not_a_journal(const std::filesystem::path& path, const std::string& why) {
  return {Code::unreadable,
          shown(path) + " is no journal (" + why + "); it was not changed. Name a file that \"jigtime new\" made."};
}

Error error_of(const std::exception& exception, const std::filesystem::path& path, sqlite3* handle) {
  if (const auto* sqlite = dynamic_cast<const SQLite::Exception*>(&exception)) return of_sqlite(*sqlite, path, handle);
  if (dynamic_cast<const Damaged*>(&exception) != nullptr) {
    return {Code::unreadable,
            "The journal " + shown(path) + " is damaged (" + exception.what() + "). Go back to a copy of it."};
  }
  return {Code::internal, std::string{"The journal could not be used ("} + exception.what() + ")."};
}

}  // namespace jigtime::store
