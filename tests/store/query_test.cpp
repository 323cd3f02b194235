#include <doctest/doctest.h>

#include "store/query_private.h"

using namespace jigtime;
using namespace jigtime::store;
using namespace std::chrono_literals;

namespace {

struct Fixture {
  Database database{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
};

}  // namespace

TEST_CASE_FIXTURE(Fixture, "values of every type come back as they were bound") {
  const std::string bytes{"\xFF\0\x01", 3};
  const SessionTime time{3h + 1ns};
  Query row{database, "SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7"};
  REQUIRE(row.with(5'000'000'000, -7, std::string_view{"a\0b", 3}, Bytes{bytes}, Length{-1}, time, Id<struct Tag>{9})
              .next());
  CHECK(row.integer(0) == 5'000'000'000);
  CHECK(row.number(1) == -7);
  CHECK(row.text(2) == std::string{"a\0b", 3});
  CHECK(row.bytes(3) == bytes);
  CHECK(row.length(4) == Length{-1});
  CHECK(row.point<SessionTime>(5) == time);
  CHECK(row.id<Id<struct Tag>>(6).value == 9);
  CHECK(!row.next());
}

TEST_CASE_FIXTURE(Fixture, "nothing is bound as nothing") {
  Query row{database, "SELECT ?1, ?2"};
  REQUIRE(row.with(std::optional<Length>{}, std::optional<std::string>{"x"}).next());
  CHECK(row.is_null(0));
  CHECK(row.text(1) == "x");
  CHECK(!row.optional_id<Id<struct Tag>>(0).has_value());
}

TEST_CASE_FIXTURE(Fixture, "a value of another type than wanted is damage, not a guess") {
  Query row{database, "SELECT NULL, 'text', 1.5, 5000000000, x'00'"};
  REQUIRE(row.next());
  CHECK_THROWS_AS(static_cast<void>(row.integer(0)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.text(0)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.integer(1)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.integer(2)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.number(3)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.bytes(1)), Damaged);
  CHECK_THROWS_AS(static_cast<void>(row.text(4)), Damaged);
}

TEST_CASE_FIXTURE(Fixture, "a statement that is used again starts afresh") {
  database.exec("CREATE TABLE t (id INTEGER PRIMARY KEY)");
  for (int round = 0; round < 2; ++round) {
    CHECK(Query{database, "INSERT INTO t DEFAULT VALUES RETURNING id"}.run_for_id() == round + 1);
  }
  Query bound{database, "SELECT ?1"};
  REQUIRE(bound.with(7).next());
  Query half_read{database, "SELECT id FROM t ORDER BY id"};
  REQUIRE(half_read.next());
  // The same text in use twice is two statements.
  Query other{database, "SELECT id FROM t ORDER BY id"};
  REQUIRE(other.next());
  REQUIRE(half_read.next());
  CHECK(half_read.integer(0) == 2);
  CHECK(other.integer(0) == 1);
}

TEST_CASE_FIXTURE(Fixture, "a statement given back keeps no value and no snapshot") {
  database.exec("CREATE TABLE t (id)");
  database.exec("INSERT INTO t VALUES (1), (2)");
  {
    Query row{database, "SELECT id FROM t WHERE id = ?1 OR ?1 IS NULL"};
    REQUIRE(row.with(1).next());
  }
  // A statement that was not reset would keep the table from being dropped.
  database.exec("ALTER TABLE t RENAME TO u; CREATE TABLE t (id); DROP TABLE u; INSERT INTO t VALUES (3)");
  Query row{database, "SELECT id FROM t WHERE id = ?1 OR ?1 IS NULL"};
  REQUIRE(row.next());
  CHECK(row.integer(0) == 3);
}

TEST_CASE_FIXTURE(Fixture, "a step that fails throws, and the statement can be used again") {
  database.exec("CREATE TABLE t (id INTEGER PRIMARY KEY)");
  const auto insert = [&] { Query{database, "INSERT INTO t VALUES (?1)"}.with(1).run(); };
  insert();
  CHECK_THROWS(insert());
  database.exec("DELETE FROM t");
  CHECK_NOTHROW(insert());
}
