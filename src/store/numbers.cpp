#include <exception>

#include "store/numbers_private.h"

namespace jigtime::store {
namespace {

constexpr const char* kind_of_pointer = "jigtime row taker";

struct Taking {
  const std::function<void(const TakenRow&)>& take;
  std::exception_ptr thrown{};
};

/// Nothing may be thrown through SQLite: the first exception waits until it is back.
void take_row(sqlite3_context* context, int, sqlite3_value** values) {
  // Zero at the first row; from then on what it was set to.
  auto* const kept = static_cast<Taking**>(sqlite3_aggregate_context(context, sizeof(Taking*)));
  if (kept == nullptr) return sqlite3_result_error_nomem(context);
  if (*kept == nullptr) *kept = static_cast<Taking*>(sqlite3_value_pointer(values[0], kind_of_pointer));
  Taking* const taking = *kept;
  if (taking == nullptr || taking->thrown) return;
  try {
    taking->take(TakenRow{values + 1});
  } catch (...) {
    taking->thrown = std::current_exception();
  }
}

void end_of_rows(sqlite3_context* answer) { sqlite3_result_null(answer); }

}  // namespace

void teach_take_row(Database& database) {
  // No view or trigger of a journal that came from somebody else may call it.
  const int code = sqlite3_create_function_v2(database.getHandle(), "take_row", -1, SQLITE_UTF8 | SQLITE_DIRECTONLY,
                                              nullptr, nullptr, take_row, end_of_rows, nullptr);
  if (code != SQLITE_OK) throw SQLite::Exception{database.getHandle(), code};
}

void take_rows(Database& database, const std::string& columns, const std::string& from,
               const std::function<void(const TakenRow&)>& take) {
  const std::string sql = "SELECT take_row(?1, " + columns + ") FROM " + from;
  sqlite3_stmt* prepared = nullptr;
  if (sqlite3_prepare_v2(database.getHandle(), sql.c_str(), -1, &prepared, nullptr) != SQLITE_OK) {
    throw SQLite::Exception{database.getHandle()};
  }
  const StatementPtr statement{prepared};
  Taking taking{take};
  sqlite3_bind_pointer(prepared, 1, static_cast<void*>(&taking), kind_of_pointer, nullptr);
  int code = SQLITE_ROW;
  while (code == SQLITE_ROW) code = sqlite3_step(prepared);
  if (taking.thrown) std::rethrow_exception(taking.thrown);
  if (code != SQLITE_DONE) throw SQLite::Exception{database.getHandle(), code};
}

}  // namespace jigtime::store
