#include <algorithm>

#include "store/numbers_private.h"
#include "store/ranking_private.h"

namespace jigtime::store {
namespace {

constexpr int most_words = 15;
constexpr int most_counted = 15;
constexpr int bits = 4;

void occurrences(const Fts5ExtensionApi* api, Fts5Context* hit, sqlite3_context* answer, int, sqlite3_value**) {
  const int words = std::min(api->xPhraseCount(hit), most_words);
  std::int64_t packed = 0;
  for (int word = 0; word < words; ++word) {
    Fts5PhraseIter place{};
    int column = 0;
    int offset = 0;
    std::int64_t count = 0;
    if (const int code = api->xPhraseFirst(hit, word, &place, &column, &offset); code != SQLITE_OK) {
      return sqlite3_result_error_code(answer, code);
    }
    for (; column >= 0 && count < most_counted; api->xPhraseNext(hit, &place, &column, &offset)) ++count;
    packed |= count << (bits * word);
  }
  sqlite3_result_int64(answer, packed);
}

/// As the documentation of FTS5 has it ("Extending FTS5"): the pointer comes back through a bound one.
fts5_api* api_of(sqlite3* handle) {
  sqlite3_stmt* prepared = nullptr;
  if (sqlite3_prepare_v2(handle, "SELECT fts5(?1)", -1, &prepared, nullptr) != SQLITE_OK) return nullptr;
  const StatementPtr statement{prepared};
  fts5_api* api = nullptr;
  sqlite3_bind_pointer(prepared, 1, static_cast<void*>(&api), "fts5_api_ptr", nullptr);
  sqlite3_step(prepared);
  return api;
}

}  // namespace

void teach_occurrences(Database& database) {
  fts5_api* const api = api_of(database.getHandle());
  if (api == nullptr) throw SQLite::Exception{database.getHandle()};
  const int code = api->xCreateFunction(api, "occurrences", nullptr, occurrences, nullptr);
  if (code != SQLITE_OK) throw SQLite::Exception{database.getHandle(), code};
}

double worth(std::int64_t packed, double length, double mean_length) {
  constexpr double k1 = 1.2;
  constexpr double b = 0.75;
  const double size = length > 0 && mean_length > 0 ? 1 - b + b * length / mean_length : 1;
  double sum = 0;
  for (; packed > 0; packed >>= bits) {
    const auto count = static_cast<double>(packed & most_counted);
    sum += count * (k1 + 1) / (count + k1 * size);
  }
  return sum;
}

}  // namespace jigtime::store
