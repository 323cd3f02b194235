#include <sqlite3.h>

#include "store/migration_private.h"
#include "store/query_private.h"

namespace jigtime::store {

std::int64_t format_of(Database& database) {
  Query format{database, "PRAGMA user_version"};
  return format.next() ? format.integer(0) : 0;
}

namespace {

/// While it lives, no trigger answers: a step may write rows of sealed sessions anew, as they are.
class WithoutTriggers {
 public:
  explicit WithoutTriggers(Database& database) : database_{database} { set(0); }
  WithoutTriggers(const WithoutTriggers&) = delete;
  WithoutTriggers& operator=(const WithoutTriggers&) = delete;
  ~WithoutTriggers() { set(1); }

 private:
  void set(int on) { sqlite3_db_config(database_.getHandle(), SQLITE_DBCONFIG_ENABLE_TRIGGER, on, nullptr); }
  Database& database_;
};

}  // namespace

void apply_steps(Database& database, const std::vector<std::string>& steps) {
  const std::int64_t format = format_of(database);
  if (format < 0 || format > static_cast<std::int64_t>(steps.size())) throw Damaged{"it has an impossible format"};
  const WithoutTriggers silent{database};
  for (auto step = static_cast<std::size_t>(format); step < steps.size(); ++step) database.exec(steps[step]);
  database.exec("PRAGMA user_version = " + std::to_string(steps.size()));
  if (Query{database, "PRAGMA foreign_key_check"}.next()) throw Damaged{"rows refer to rows that are gone"};
}

}  // namespace jigtime::store
