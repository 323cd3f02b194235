#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <tuple>
#include <vector>

#include "store/numbers_private.h"

using namespace jigtime::store;

namespace {

struct Fixture {
  Database database{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};

  Fixture() {
    teach_take_row(database);
    database.exec("CREATE TABLE a (id INTEGER PRIMARY KEY, word TEXT, number INTEGER)");
    database.exec("INSERT INTO a VALUES (1, 'work', 7), (2, '', -9223372036854775808), (3, 'break', NULL)");
  }
};

}  // namespace

TEST_CASE_FIXTURE(Fixture, "every row is handed over once with its values") {
  std::vector<std::tuple<std::int64_t, char, std::int64_t, bool>> rows;
  take_rows(database, "id, word, number", "a",
            [&](const TakenRow& row) { rows.emplace_back(row.at(0), row.first_letter(1), row.at(2), row.is_null(2)); });
  std::sort(rows.begin(), rows.end());
  CHECK(rows == std::vector<std::tuple<std::int64_t, char, std::int64_t, bool>>{
                    {1, 'w', 7, false}, {2, '\0', std::numeric_limits<std::int64_t>::min(), false}, {3, 'b', 0, true}});
}

TEST_CASE_FIXTURE(Fixture, "a table without rows hands over none") {
  int count = 0;
  take_rows(database, "id", "a WHERE id > 3", [&](const TakenRow&) { ++count; });
  CHECK(count == 0);
}

TEST_CASE_FIXTURE(Fixture, "what is thrown over a row comes back, and no further row is taken") {
  int count = 0;
  const auto give_up = [&](const TakenRow&) {
    ++count;
    throw std::runtime_error{"enough"};
  };
  CHECK_THROWS_WITH(take_rows(database, "id", "a", give_up), "enough");
  CHECK(count == 1);
  take_rows(database, "id", "a", [&](const TakenRow&) { ++count; });
  CHECK(count == 4);
}

TEST_CASE_FIXTURE(Fixture, "a table that is not there is told as SQLite tells it") {
  CHECK_THROWS_AS(take_rows(database, "id", "b", [](const TakenRow&) {}), SQLite::Exception);
}

TEST_CASE_FIXTURE(Fixture, "no view of a journal from elsewhere can call it, and a made-up pointer is none") {
  database.exec("CREATE VIEW trap AS SELECT take_row(1, id) AS x FROM a");
  CHECK_THROWS(database.execAndGet("SELECT x FROM trap"));
  CHECK(database.execAndGet("SELECT take_row(12345678, id) FROM a").isNull());
}
