#include <doctest/doctest.h>
#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "store/filled.h"
#include "store/journal_file.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

/// While it lives, no database that this program opens grows: the disk is full as far as SQLite can tell.
class NoRoomToGrow {
 public:
  NoRoomToGrow() { sqlite3_auto_extension(entry()); }
  NoRoomToGrow(const NoRoomToGrow&) = delete;
  NoRoomToGrow& operator=(const NoRoomToGrow&) = delete;
  ~NoRoomToGrow() { sqlite3_cancel_auto_extension(entry()); }

 private:
  using Entry = void (*)();
  static int limit(sqlite3* handle, const char**, const void*) {
    return sqlite3_exec(handle, "PRAGMA max_page_count = 1", nullptr, nullptr, nullptr);
  }
  // SQLite's interface takes the extension as a function without parameters.
  static Entry entry() {
    // NOLINTNEXTLINE
    return reinterpret_cast<Entry>(reinterpret_cast<void*>(&limit));
  }
};

Done add_many_marks(Store& store) {
  return store.edit("many marks", [](Edit& edit) -> Done {
    for (int i = 0; i < 500; ++i) {
      if (const auto added = edit.add(Mark{{}, {1}, at(1s), std::string(2000, 'x')}); !added) return added.error();
    }
    return {};
  });
}

}  // namespace

TEST_CASE("a full disk is told, leaves the journal as it was, and the next edit works") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  const NoRoomToGrow full;
  Store store = must(Store::open(path));
  const SessionRecord before = record_of(store);
  const Done done = add_many_marks(store);
  CHECK(holds(refusal(done), "no space: The disk is full: the journal"));
  CHECK(holds(refusal(done), "was left as it was. Free some space"));
  CHECK(record_of(store) == before);
  CHECK(must(store.integrity()).empty());
  must(edited(store, [](Edit& edit) { return edit.remove(ItemId{2}); }));
  CHECK(record_of(store).items.size() == 1);
}

TEST_CASE("a deed that goes on after the disk was full is not committed in part") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  const NoRoomToGrow full;
  Store store = must(Store::open(path));
  const SessionRecord before = record_of(store);
  const Done done = store.edit("careless", [](Edit& edit) -> Done {
    must(edit.relink(journal::PartId{1}, "/first"));
    for (int i = 0; i < 500; ++i) static_cast<void>(edit.add(Mark{{}, {1}, at(1s), std::string(2000, 'x')}));
    static_cast<void>(edit.relink(journal::PartId{2}, "/last"));
    return {};
  });
  CHECK(holds(refusal(done), "no space: "));
  CHECK(record_of(store) == before);
}

TEST_CASE("a journal that finds no room when it is made leaves no file") {
  const TempFolder folder;
  const NoRoomToGrow full;
  CHECK(holds(refusal(Store::create(folder / "a.jigtime", sample_build())), "no space: "));
  CHECK(std::filesystem::is_empty(folder.path()));
}

namespace {

/// While it lives, no file that this program writes grows beyond so many bytes: as a quota does it, and a disk that is
/// full but for a little.
class SizeLimit {
 public:
  explicit SizeLimit(std::uintmax_t bytes) : told_{std::signal(SIGXFSZ, SIG_IGN)} {
    getrlimit(RLIMIT_FSIZE, &before_);
    const rlimit limit{bytes, before_.rlim_max};
    setrlimit(RLIMIT_FSIZE, &limit);
  }
  SizeLimit(const SizeLimit&) = delete;
  SizeLimit& operator=(const SizeLimit&) = delete;
  ~SizeLimit() {
    setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, told_);
  }

 private:
  rlimit before_{};
  void (*told_)(int);
};

Done add_mark(Store& store, const std::string& note) {
  return edited(store, [&](Edit& edit) -> Done {
    const auto added = edit.add(Mark{{}, {1}, at(1s), note});
    return added ? Done{} : Done{added.error()};
  });
}

bool told_as_full(const Done& done) {
  return !done && done.error().code() == Code::no_space && holds(done.error().message(), "Free some space") &&
         holds(done.error().message(), "was left as it was");
}

}  // namespace

TEST_CASE("a disk that is full only when a small edit is committed is told as full, at whatever byte it strikes") {
  JournalFile file;
  fill(file.store);
  const std::uintmax_t log = std::filesystem::file_size(file.path.string() + "-wal");
  for (const std::uintmax_t room : {0U, 1U, 23U, 24U, 25U, 100U, 4000U, 4096U, 4120U, 5000U, 8240U, 9000U}) {
    CAPTURE(room);
    const SessionRecord before = record_of(file.store);
    Done done;
    {
      const SizeLimit limit{log + room};
      done = add_mark(file.store, "no room for this");
    }
    CHECK(told_as_full(done));
    CHECK(record_of(file.store) == before);
    CHECK(must(file.store.integrity()).empty());
  }
  must(add_mark(file.store, "room again"));
  const Store again = must(Store::open(file.path));
  CHECK(record_of(again).marks.size() == 2);
  CHECK(must(again.find("no room for this")).empty());
}

TEST_CASE("an undo that finds no room at its end is told so, and can be done once there is some") {
  JournalFile file;
  fill(file.store);
  must(add_mark(file.store, "to be taken back"));
  std::optional<Error> refused;
  {
    const SizeLimit limit{std::filesystem::file_size(file.path.string() + "-wal") + 100};
    const auto change = file.store.undo();
    if (!change) refused = change.error();
  }
  REQUIRE(refused);
  CHECK(told_as_full(*refused));
  CHECK(record_of(file.store).marks.size() == 2);
  must(file.store.undo());
  CHECK(record_of(file.store).marks.size() == 1);
}

TEST_CASE("a journal is not opened where there is no room for its log, and says so") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  std::optional<Error> refused;
  {
    const SizeLimit limit{0};
    const Result<Store> store = Store::open(path);
    if (!store) refused = store.error();
  }
  REQUIRE(refused);
  CHECK(refused->code() == Code::no_space);
  CHECK(record_of(must(Store::open(path))).marks.size() == 1);
}

TEST_CASE("a copy that finds no room is taken away again") {
  JournalFile file;
  fill(file.store);
  Done done;
  {
    const SizeLimit limit{20'000};
    done = file.store.back_up(file.folder / "copy.jigtime");
  }
  CHECK(holds(refusal(done), "no space: "));
  CHECK(!std::filesystem::exists(file.folder / "copy.jigtime"));
}

TEST_CASE("a write that the system cuts off is told as no space, and nothing is lost") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  // The limit on the size of files stands for a quota; it holds for the child alone.
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    signal(SIGXFSZ, SIG_IGN);
    Result<Store> store = Store::open(path);
    const rlimit limit{400'000, 400'000};
    if (!store || setrlimit(RLIMIT_FSIZE, &limit) != 0) _exit(2);
    const Done done = add_many_marks(*store);
    _exit(!done && done.error().code() == Code::no_space ? 0 : 1);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  CHECK(WEXITSTATUS(status) == 0);
  const Store store = must(Store::open(path));
  CHECK(record_of(store).marks == sample_record().marks);
  CHECK(must(store.integrity()).empty());
}
