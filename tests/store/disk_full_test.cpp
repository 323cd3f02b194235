#include <doctest/doctest.h>
#include <sqlite3.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "store/filled.h"
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
