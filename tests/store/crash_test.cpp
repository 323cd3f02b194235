#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <random>
#include <set>
#include <thread>

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

/// One edit of two rows that belong together: a span and a mark with the same number in their notes.
Done add_pair(Store& store, int number) {
  return store.edit("pair", [&](Edit& edit) -> Done {
    Span span = sample_record().spans[0];
    span.note = "pair " + std::to_string(number);
    if (const auto added = edit.add(span); !added) return added.error();
    const auto added = edit.add(Mark{{}, {1}, at(1s), span.note});
    return added ? Done{} : Done{added.error()};
  });
}

/// Adds pairs without end, and says each number on the pipe once it is committed.
[[noreturn]] void work_until_killed(const std::filesystem::path& path, int first, int pipe) {
  Result<Store> store = Store::open(path);
  if (!store) _exit(2);
  for (int number = first;; ++number) {
    if (!add_pair(*store, number)) _exit(3);
    if (write(pipe, &number, sizeof number) != sizeof number) _exit(4);
  }
}

/// What a killed child had said before it died.
std::vector<int> numbers_said(int pipe) {
  std::vector<int> numbers;
  int number = 0;
  while (read(pipe, &number, sizeof number) == sizeof number) numbers.push_back(number);
  return numbers;
}

std::set<std::string> pairs_in(const SessionRecord& record) {
  std::set<std::string> spans;
  std::set<std::string> marks;
  for (const Span& span : record.spans) {
    if (span.note.rfind("pair ", 0) == 0) spans.insert(span.note);
  }
  for (const Mark& mark : record.marks) {
    if (mark.note.rfind("pair ", 0) == 0) marks.insert(mark.note);
  }
  CHECK(spans == marks);
  return spans;
}

int exit_code(pid_t child) {
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

/// A child works on the journal until it is killed, at some moment of one of the edits that follow its first. Returns
/// what it had acknowledged.
std::vector<int> killed_at_work(const std::filesystem::path& path, int first, std::chrono::microseconds after) {
  int ends[2];
  REQUIRE(pipe(ends) == 0);
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    close(ends[0]);
    work_until_killed(path, first, ends[1]);
  }
  close(ends[1]);
  std::vector<int> numbers(1);
  REQUIRE(read(ends[0], numbers.data(), sizeof(int)) == sizeof(int));
  std::this_thread::sleep_for(after);
  kill(child, SIGKILL);
  CHECK(exit_code(child) == -SIGKILL);
  const std::vector<int> rest = numbers_said(ends[0]);
  close(ends[0]);
  numbers.insert(numbers.end(), rest.begin(), rest.end());
  return numbers;
}

}  // namespace

TEST_CASE("killed in the middle of an edit, the journal loses nothing that was acknowledged and keeps no half") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  std::mt19937 dice{29};
  std::set<std::string> acknowledged;
  for (std::size_t run = 1; run <= 200; ++run) {
    const std::chrono::microseconds after{dice() % 40'000};
    for (const int number : killed_at_work(path, static_cast<int>(run) * 100'000, after)) {
      acknowledged.insert("pair " + std::to_string(number));
    }
    CAPTURE(run);
    const Store store = must(Store::open(path));
    CHECK(must(store.integrity()).empty());
    const std::set<std::string> pairs = pairs_in(record_of(store));
    CHECK(std::includes(pairs.begin(), pairs.end(), acknowledged.begin(), acknowledged.end()));
    // Each killed program can have committed one edit that it had not yet acknowledged.
    CHECK(pairs.size() <= acknowledged.size() + run);
    // Counted from outside: a search itself gives no more than it ranks.
    CHECK(Raw{path}.value("SELECT count(*) FROM search WHERE search MATCH 'pair'") == std::to_string(2 * pairs.size()));
  }
  // More than each run's first: the kills fell among edits, not before them.
  CHECK(acknowledged.size() > 200);
}

TEST_CASE("two programs that write at the same time both get all their edits in") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  constexpr int each = 25;
  std::vector<pid_t> children;
  for (int program = 0; program < 2; ++program) {
    children.push_back(fork());
    REQUIRE(children.back() >= 0);
    if (children.back() != 0) continue;
    Result<Store> store = Store::open(path);
    if (!store) _exit(2);
    for (int i = 0; i < each;) {
      // On a loaded machine the other program may keep this one waiting for longer than it waits.
      const Done done = add_pair(*store, program * 1000 + i);
      if (!done && done.error().code() != Code::busy) _exit(3);
      i += done ? 1 : 0;
    }
    _exit(0);
  }
  for (const pid_t child : children) CHECK(exit_code(child) == 0);
  const Store store = must(Store::open(path));
  CHECK(pairs_in(record_of(store)).size() == 2 * each);
  CHECK(must(store.integrity()).empty());
}

TEST_CASE("killed while the journal is made, what is left is no journal or a whole one") {
  std::mt19937 dice{31};
  for (int run = 0; run < 20; ++run) {
    const TempFolder folder;
    const auto path = folder / "a.jigtime";
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      const Result<Store> store = Store::create(path, sample_build());
      pause();
    }
    std::this_thread::sleep_for(std::chrono::microseconds{dice() % 30'000});
    kill(child, SIGKILL);
    CHECK(exit_code(child) == -SIGKILL);
    CAPTURE(run);
    const Result<Store> store = Store::open(path);
    if (store) {
      CHECK(must(store->build()) == sample_build());
      CHECK(must(store->integrity()).empty());
    } else {
      CHECK((store.error().code() == Code::not_found || store.error().code() == Code::unreadable));
    }
  }
}
