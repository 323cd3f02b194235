#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include "store/backup_private.h"
#include "store/failure_private.h"
#include "store/query_private.h"

namespace jigtime::store {
namespace {

constexpr int pages_at_once = 1024;
constexpr int busy_timeout_ms = 2000;

void copy_pages(Database& database, Database& copy) {
  sqlite3_backup* backup = sqlite3_backup_init(copy.getHandle(), "main", database.getHandle(), "main");
  if (backup == nullptr) throw SQLite::Exception{copy.getHandle()};
  int code = SQLITE_OK;
  while (code == SQLITE_OK) code = sqlite3_backup_step(backup, pages_at_once);
  const int finished = sqlite3_backup_finish(backup);
  if (code != SQLITE_DONE) throw SQLite::Exception{copy.getHandle(), code};
  if (finished != SQLITE_OK) throw SQLite::Exception{copy.getHandle(), finished};
  Query check{copy, "PRAGMA quick_check"};
  if (!check.next() || check.text(0) != "ok") throw Damaged{"its copy is not whole"};
}

}  // namespace

Done copy_into(Database& database, const std::filesystem::path& path) {
  Database copy{path.string(), SQLite::OPEN_READWRITE, busy_timeout_ms};
  try {
    copy_pages(database, copy);
    return {};
  } catch (const std::exception& exception) {
    if (!found_no_room(exception, copy.getHandle())) throw;
    return Error{Code::no_space,
                 "The disk is full: the copy was not made. Free some space, or name a file on another disk."};
  }
}

}  // namespace jigtime::store
