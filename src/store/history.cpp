// Debian builds SQLite with both; the header declares the session functions only when told so.
#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <SQLiteCpp/Exception.h>
#include <sqlite3.h>

#include <chrono>

#include "base/text.h"
#include "base/time.h"
#include "store/history_private.h"
#include "store/query_private.h"
#include "store/schema.h"

namespace jigtime::store {
namespace {

void check(Database& database, int code) {
  if (code != SQLITE_OK) throw SQLite::Exception{database.getHandle(), code};
}

struct FreeMemory {
  void operator()(void* memory) const { sqlite3_free(memory); }
};

}  // namespace

void History::Release::operator()(sqlite3_session* session) const { sqlite3session_delete(session); }

History::History(Database& database) : database_{database} {
  sqlite3_session* session = nullptr;
  check(database_, sqlite3session_create(database_.getHandle(), "main", &session));
  session_.reset(session);
  for (const std::string_view table : record_tables()) {
    check(database_, sqlite3session_attach(session, std::string{table}.c_str()));
  }
}

void History::write(std::string_view label, std::string_view who) {
  int size = 0;
  void* bytes = nullptr;
  check(database_, sqlite3session_changeset(session_.get(), &size, &bytes));
  const std::unique_ptr<void, FreeMemory> owner{bytes};
  if (size == 0) return;
  const Bytes changes{{static_cast<const char*>(bytes), static_cast<std::size_t>(size)}};
  const WallTime now = std::chrono::time_point_cast<Length>(std::chrono::system_clock::now());
  Query{database_, "INSERT INTO edit (at_ns, label, changes, who) VALUES (?1, ?2, ?3, ?4)"}
      .with(now, std::string_view{to_utf8(label)}, changes, std::string_view{to_utf8(who)})
      .run();
}

}  // namespace jigtime::store
