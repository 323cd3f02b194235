// The journal looked at with SQLite's own command-line program.
#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <memory>

#include "store/filled.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using store::Store;

namespace {

std::string said_by_sqlite3(const std::filesystem::path& path, const std::string& sql) {
  struct Close {
    void operator()(std::FILE* pipe) const { pclose(pipe); }
  };
  const std::string command = "sqlite3 -readonly '" + path.string() + "' \"" + sql + "\" 2>&1";
  const std::unique_ptr<std::FILE, Close> pipe{popen(command.c_str(), "r")};
  REQUIRE(pipe != nullptr);
  std::string said;
  std::array<char, 4096> buffer{};
  while (std::fgets(buffer.data(), buffer.size(), pipe.get()) != nullptr) said += buffer.data();
  return said;
}

}  // namespace

TEST_CASE("the sqlite3 program finds the journal whole, open or closed") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
    CHECK(said_by_sqlite3(path, "PRAGMA integrity_check; PRAGMA foreign_key_check") == "ok\n");
  }
  CHECK(said_by_sqlite3(path, "PRAGMA integrity_check; PRAGMA foreign_key_check") == "ok\n");
}

TEST_CASE("the sqlite3 program reads what was tagged") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  CHECK(said_by_sqlite3(path, "SELECT kind, begin_ns, end_ns FROM span ORDER BY id") ==
        "work|300000000000|3000000000000\nbreak|1200000000000|1500000000000\n");
  CHECK(said_by_sqlite3(path, "SELECT sum(set_count), sum(drilled) FROM span_fastener") == "35|1\n");
}
