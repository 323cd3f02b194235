#include <doctest/doctest.h>

#include "store/connection_private.h"
#include "store/damaged.h"
#include "store/migration_private.h"

using namespace jigtime::store;

namespace {

const std::vector<std::string> steps = {"CREATE TABLE a (id INTEGER PRIMARY KEY, v)", "ALTER TABLE a ADD COLUMN w",
                                        "CREATE TABLE b (a INTEGER REFERENCES a)"};

struct Fixture {
  Database database{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};

  void apply(const std::vector<std::string>& wanted) {
    Transaction transaction{database, Transaction::Kind::write};
    apply_steps(database, wanted);
    transaction.commit();
  }
};

}  // namespace

TEST_CASE_FIXTURE(Fixture, "an empty file takes every step") {
  apply(steps);
  CHECK(format_of(database) == 3);
  CHECK(database.tableExists("b"));
}

TEST_CASE_FIXTURE(Fixture, "a file takes only the steps it has not had, and keeps its rows") {
  apply({steps[0]});
  database.exec("INSERT INTO a (v) VALUES (7)");
  apply(steps);
  CHECK(format_of(database) == 3);
  CHECK(database.execAndGet("SELECT v FROM a WHERE w IS NULL").getInt64() == 7);
}

TEST_CASE_FIXTURE(Fixture, "a step that fails leaves the file at its old format") {
  apply({steps[0]});
  CHECK_THROWS(apply({steps[0], steps[1], "CREATE TABLE a (x)"}));
  CHECK(format_of(database) == 1);
  CHECK_THROWS(database.exec("SELECT w FROM a"));
}

TEST_CASE_FIXTURE(Fixture, "a step that leaves rows without what they refer to is undone") {
  apply(steps);
  CHECK_THROWS_AS(apply({steps[0], steps[1], steps[2], "INSERT INTO b VALUES (99)"}), Damaged);
  CHECK(format_of(database) == 3);
}

TEST_CASE_FIXTURE(Fixture, "a format beyond the steps is not lowered") {
  apply(steps);
  CHECK_THROWS_AS(apply({steps[0]}), Damaged);
  CHECK(format_of(database) == 3);
}
