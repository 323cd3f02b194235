#include <SQLiteCpp/Exception.h>
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <string>
#include <vector>

#include "store/damaged.h"
#include "store/failure_private.h"

using namespace jigtime;
using namespace jigtime::store;

namespace {

Error failed(int code, const char* said = "said so") {
  return store::error_of(SQLite::Exception{said, code}, "/shed/a.jigtime", nullptr);
}

}  // namespace

TEST_CASE("every failure of SQLite has the code of what the builder can do") {
  struct Row {
    int sqlite;
    Code code;
    std::string said;
  };
  const std::vector<Row> rows = {{SQLITE_BUSY, Code::busy, "Try again in a moment"},
                                 {SQLITE_LOCKED, Code::busy, "Try again"},
                                 {SQLITE_FULL, Code::no_space, "Free some space"},
                                 {SQLITE_READONLY, Code::denied, "Ask for permission"},
                                 {SQLITE_PERM, Code::denied, "Ask for permission"},
                                 {SQLITE_CANTOPEN, Code::denied, "Ask for permission"},
                                 {SQLITE_CORRUPT, Code::unreadable, "Go back to a copy"},
                                 {SQLITE_NOTADB, Code::unreadable, "Go back to a copy"},
                                 {SQLITE_ERROR, Code::unreadable, "Go back to a copy"},
                                 {SQLITE_IOERR, Code::unreadable, "Check the disk"},
                                 {SQLITE_CONSTRAINT, Code::conflict, "forbids"},
                                 {SQLITE_TOOBIG, Code::invalid, "Shorten it"},
                                 {SQLITE_MISUSE, Code::internal, "said so"}};
  for (const Row& row : rows) {
    const Error error = failed(row.sqlite);
    CAPTURE(row.sqlite);
    CHECK(error.code() == row.code);
    CHECK(error.message().find(row.said) != std::string::npos);
  }
}

TEST_CASE("the message names the journal, in a form fit to be printed") {
  CHECK(failed(SQLITE_CORRUPT).message().find("\"/shed/a.jigtime\"") != std::string::npos);
  CHECK(shown("a\x1B\xFF") == "\"a \xEF\xBF\xBD\"");
  CHECK(shown("") == "in memory");
}

TEST_CASE("a trigger's refusal is told as a sealed session") {
  CHECK(failed(SQLITE_CONSTRAINT, "jigtime: sealed").message() ==
        "The session is sealed and cannot be changed any more.");
}

TEST_CASE("damage and surprises are told apart") {
  CHECK(store::error_of(Damaged{"a number is missing"}, "/a", nullptr).code() == Code::unreadable);
  CHECK(store::error_of(std::bad_alloc{}, "/a", nullptr).code() == Code::internal);
}
