#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <string>

#include "store/as_nobody.h"
#include "store/filled.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "store/schema.h"
#include "store/store.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using store::Store;

namespace {

std::filesystem::path journal_in(const TempFolder& folder) {
  const std::filesystem::path path = folder / "a.jigtime";
  Store store = must(Store::create(path, sample_build()));
  fill(store);
  return path;
}

Done add_person(Store& store, const std::string& name) {
  return store.edit("add " + name, [&](store::Edit& edit) -> Done {
    const auto added = edit.add({{}, name, journal::Role::builder});
    return added ? Done{} : added.error();
  });
}

std::vector<std::string> names_in(const TempFolder& folder) {
  std::vector<std::string> names;
  for (const auto& file : std::filesystem::directory_iterator{folder.path()}) {
    names.push_back(file.path().filename().string());
  }
  return names;
}

}  // namespace

TEST_CASE("a new journal carries its mark and format, and uses the write-ahead log") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Raw raw{path};
  CHECK(raw.value("PRAGMA application_id") == std::to_string(store::application_id));
  CHECK(raw.value("PRAGMA user_version") == std::to_string(Store::schema_version));
  CHECK(raw.value("PRAGMA journal_mode") == "wal");
  CHECK(static_cast<std::size_t>(Store::schema_version) == store::migrations().size());
}

TEST_CASE("opening what is not there says so and makes nothing") {
  const TempFolder folder;
  const std::string said = refusal(Store::open(folder / "none.jigtime"));
  CHECK(holds(said, "not found: There is no journal at"));
  CHECK(holds(said, "jigtime new"));
  CHECK(names_in(folder).empty());
}

TEST_CASE("what is no journal is refused and left byte for byte") {
  struct Row {
    std::string what;
    std::string bytes;
    std::string said;
  };
  const std::string magic{"SQLite format 3\0", 16};
  const std::vector<Row> rows = {{"empty", "", "empty or cut short"},
                                 {"text", std::string(5000, 'x'), "another kind of file"},
                                 {"short", "SQLite format 3", "empty or cut short"},
                                 {"header only", magic + std::string(84, '\0'), "another program"},
                                 {"nearly the magic", "SQLite format 4" + std::string(985, '\0'), "another kind"}};
  for (const Row& row : rows) {
    const TempFolder folder;
    write_bytes(folder / "a.jigtime", row.bytes);
    CAPTURE(row.what);
    const std::string said = refusal(Store::open(folder / "a.jigtime"));
    CAPTURE(said);
    CHECK(said.rfind("unreadable: ", 0) == 0);
    CHECK(holds(said, row.said));
    CHECK(bytes_of(folder / "a.jigtime") == row.bytes);
    CHECK(names_in(folder).size() == 1);
  }
}

TEST_CASE("another program's database is refused and left byte for byte, whatever its journal mode") {
  for (const std::string mode : {"delete", "wal"}) {
    const TempFolder folder;
    const auto path = folder / "other.db";
    {
      Raw raw{path};
      raw.must("PRAGMA journal_mode = " + mode + "; CREATE TABLE person (name); INSERT INTO person VALUES ('x')");
    }
    const std::string before = bytes_of(path);
    CAPTURE(mode);
    CHECK(holds(refusal(Store::open(path)), "unreadable: "));
    CHECK(bytes_of(path) == before);
    CHECK(names_in(folder).size() == 1);
  }
}

TEST_CASE("a folder and a pipe are no journals") {
  const TempFolder folder;
  CHECK(holds(refusal(Store::open(folder.path())), "unreadable: "));
  CHECK(holds(refusal(Store::open(folder.path())), "it is a folder"));
  REQUIRE(mkfifo((folder / "pipe").c_str(), 0600) == 0);
  CHECK(holds(refusal(Store::open(folder / "pipe")), "it is not a plain file"));
  CHECK(holds(refusal(Store::open("")), "invalid: "));
}

TEST_CASE("a journal of a newer program is refused kindly and left byte for byte") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Raw{path}.must("PRAGMA user_version = 7");
  const std::string before = bytes_of(path);
  CHECK(refusal(Store::open(path)) == "unsupported: The journal \"" + path.string() +
                                          "\" was written by a newer Jigtime (format 7; this program knows " +
                                          std::to_string(Store::schema_version) +
                                          "). Update Jigtime; the journal was not changed.");
  CHECK(bytes_of(path) == before);
}

TEST_CASE("a newer format that only the write-ahead log knows is seen too") {
  // A newer program that died leaves its format number in the log; the file's own header still shows ours.
  const TempFolder folder;
  const auto path = journal_in(folder);
  const auto copy = folder / "copy.jigtime";
  {
    Raw raw{path};
    raw.must("PRAGMA user_version = 7");
    std::filesystem::copy(path, copy);
    std::filesystem::copy(path.string() + "-wal", copy.string() + "-wal");
  }
  const std::string before = bytes_of(copy);
  const std::string log = bytes_of(copy.string() + "-wal");
  CHECK(holds(refusal(Store::open(copy)), "unsupported: "));
  CHECK(bytes_of(copy) == before);
  CHECK(bytes_of(copy.string() + "-wal") == log);
}

TEST_CASE("an impossible format is damage") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Raw{path}.must("PRAGMA user_version = -1");
  CHECK(holds(refusal(Store::open(path)), "unreadable: "));
}

TEST_CASE("a journal that lost its build is damaged") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Raw{path}.must("DELETE FROM build");
  CHECK(holds(refusal(Store::open(path)), "the build's name is gone"));
  Raw{path}.must("DROP TABLE build");
  CHECK(holds(refusal(Store::open(path)), "unreadable: "));
}

TEST_CASE("a marked file without tables is refused and stays without them") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  Raw{path}.must("PRAGMA application_id = " + std::to_string(store::application_id) + "; CREATE TABLE t (x)");
  CHECK(holds(refusal(Store::open(path)), "unreadable: "));
  CHECK(Raw{path}.value("SELECT count(*) FROM sqlite_schema") == "1");
}

TEST_CASE("a journal cut short is damaged, and is not mended by cutting more") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  const std::string whole = bytes_of(path);
  for (const std::size_t size : {whole.size() / 2, whole.size() - 4096, std::size_t{4096}, std::size_t{1000}}) {
    write_bytes(path, whole.substr(0, size));
    CAPTURE(size);
    CHECK(holds(refusal(Store::open(path)), "unreadable: "));
    CHECK(bytes_of(path) == whole.substr(0, size));
  }
}

TEST_CASE("a damaged page is reported by the integrity check or by reading, never passed over") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  const std::string whole = bytes_of(path);
  for (std::size_t page = 1; page < whole.size() / 4096; ++page) {
    std::string bytes = whole;
    for (std::size_t i = page * 4096; i < (page + 1) * 4096; ++i) bytes[i] = static_cast<char>(i * 37 % 251);
    write_bytes(path, bytes);
    CAPTURE(page);
    const Result<Store> store = Store::open(path);
    if (!store) {
      CHECK(store.error().code() == Code::unreadable);
      continue;
    }
    const auto found = store->integrity();
    CHECK((!found || !found->empty()));
  }
}

TEST_CASE("creating never touches a file that is there") {
  const TempFolder folder;
  write_bytes(folder / "a.jigtime", "precious");
  const std::string said = refusal(Store::create(folder / "a.jigtime", sample_build()));
  CHECK(holds(said, "invalid: "));
  CHECK(holds(said, "exists already and was left as it is"));
  CHECK(bytes_of(folder / "a.jigtime") == "precious");
}

TEST_CASE("a journal cannot be made where it cannot be kept") {
  const TempFolder folder;
  CHECK(holds(refusal(Store::create(folder / "no/a.jigtime", sample_build())), "not found: The folder of"));
  CHECK(holds(refusal(Store::create(folder / std::string(300, 'x'), sample_build())), "invalid: The name"));
  CHECK(holds(refusal(Store::create("", sample_build())), "invalid: "));
  CHECK(names_in(folder).empty());
}

TEST_CASE("a build without a name makes no file") {
  const TempFolder folder;
  CHECK(holds(refusal(Store::create(folder / "a.jigtime", {})), "invalid: The build's name is empty"));
  CHECK(names_in(folder).empty());
}

TEST_CASE("a journal in a read-only folder is shown and takes no edit; none can be made there") {
  const TempFolder folder;
  std::filesystem::permissions(folder.path(), std::filesystem::perms{0755});
  const auto path = journal_in(folder);
  std::filesystem::permissions(path, std::filesystem::perms{0666});
  std::filesystem::permissions(folder.path(), std::filesystem::perms{0555});
  const auto before = names_in(folder);
  const AsNobody nobody;
  CHECK(holds(refusal(Store::create(folder / "b.jigtime", sample_build())), "denied: "));
  auto store = Store::open(path);
  REQUIRE_MESSAGE(store.ok(), refusal(store));
  CHECK(store->build()->name == sample_build().name);
  CHECK(holds(refusal(add_person(*store, "Mara")), "denied: "));
  CHECK(holds(refusal(store->undo()), "denied: "));
  CHECK(names_in(folder) == before);
}

TEST_CASE("a read-only file is shown whatever its format, and can be copied; one that may not be read is denied") {
  const TempFolder folder;
  std::filesystem::permissions(folder.path(), std::filesystem::perms{0777});
  const auto path = journal_in(folder);
  {
    auto store = Store::open(path);
    REQUIRE(add_person(*store, "Mara"));
  }
  std::filesystem::permissions(path, std::filesystem::perms{0444});
  {
    const AsNobody nobody;
    const auto store = Store::open(path);
    REQUIRE_MESSAGE(store.ok(), refusal(store));
    CHECK(store->known()->people.back().name == "Mara");
    CHECK(store->back_up(folder / "copy.jigtime").ok());
    auto copy = Store::open(folder / "copy.jigtime");
    REQUIRE_MESSAGE(copy.ok(), refusal(copy));
    CHECK(add_person(*copy, "Joost"));
  }
  std::filesystem::permissions(path, std::filesystem::perms{0000});
  const AsNobody nobody;
  CHECK(holds(refusal(Store::open(path)), "denied: "));
}

TEST_CASE("a read-only journal whose last edits stand in a file beside it is not shown without them") {
  const TempFolder folder;
  std::filesystem::permissions(folder.path(), std::filesystem::perms{0777});
  const auto path = journal_in(folder);
  {
    auto store = Store::open(path);
    REQUIRE(add_person(*store, "Mara"));
    // As a machine that stops leaves it: the log is not folded in.
    std::filesystem::copy_file(path, folder / "left.jigtime");
    std::filesystem::copy_file(path.string() + "-wal", folder / "left.jigtime-wal");
  }
  std::filesystem::permissions(folder / "left.jigtime", std::filesystem::perms{0444});
  std::filesystem::permissions(folder / "left.jigtime-wal", std::filesystem::perms{0444});
  const AsNobody nobody;
  CHECK(holds(refusal(Store::open(folder / "left.jigtime")), "last edits stand in the file beside it"));
}

TEST_CASE("names that SQLite would read as something else are plain file names here") {
  const TempFolder folder;
  const auto before = std::filesystem::current_path();
  std::filesystem::current_path(folder.path());
  for (const std::string name : {"file:a.jigtime?mode=memory", ":memory:", "a'; DROP TABLE span;--", "<b>&.jigtime",
                                 "caf\xE9.jigtime", "new\nline"}) {
    CAPTURE(name);
    CHECK(Store::create(name, sample_build()).ok());
    CHECK(std::filesystem::exists(folder / name));
    CHECK(Store::open(name).ok());
  }
  std::filesystem::current_path(before);
}

TEST_CASE("a journal opens through a link") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  std::filesystem::create_symlink(path, folder / "link");
  CHECK(must(Store::open(folder / "link")).sessions()->size() == 1);
}

TEST_CASE("a journal moved away while it is open takes no more edits") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Store store = must(Store::open(path));
  std::filesystem::rename(path, folder / "moved.jigtime");
  const auto refused = edited(store, [](store::Edit& edit) { return edit.add(journal::Person{{}, "Cy", {}}); });
  REQUIRE(!refused);
  CHECK(refused.error().code() == Code::not_found);
  CHECK(holds(refused.error().message(), "nothing was written"));
}

TEST_CASE("another writer makes an edit wait two seconds, then busy") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Store store = must(Store::open(path));
  Raw other{path};
  other.must("BEGIN IMMEDIATE; UPDATE build SET place = 'elsewhere'");
  const auto started = std::chrono::steady_clock::now();
  const auto add = [](store::Edit& edit) { return edit.add(journal::Person{{}, "Cy", {}}); };
  const auto refused = edited(store, add);
  const auto waited = std::chrono::steady_clock::now() - started;
  REQUIRE(!refused);
  CHECK(refused.error().code() == Code::busy);
  CHECK(waited >= 1900ms);
  CHECK(must(store.build()).place == sample_build().place);
  other.must("COMMIT");
  CHECK(edited(store, add).ok());
  CHECK(must(store.build()).place == "elsewhere");
}

TEST_CASE("two stores of one program see each other's edits") {
  const TempFolder folder;
  const auto path = journal_in(folder);
  Store one = must(Store::open(path));
  Store two = must(Store::open(path));
  must(edited(one, [](store::Edit& edit) { return edit.add(journal::Person{{}, "Cy", {}}); }));
  must(edited(two, [](store::Edit& edit) { return edit.add(journal::Person{{}, "Di", {}}); }));
  { const Store three = must(Store::open(path)); }
  must(edited(one, [](store::Edit& edit) { return edit.add(journal::Person{{}, "Ed", {}}); }));
  CHECK(must(two.known()).people.size() == 5);
  CHECK(must(one.integrity()).empty());
}
