#include "app/backroom/lock.h"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <fstream>

#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::app;

namespace {

struct Locked {
  test::TempFolder folder;
  std::filesystem::path journal = folder.path() / "a.jigtime";
  Locked() {
    ::setenv("XDG_RUNTIME_DIR", folder.path().c_str(), 1);
    std::ofstream{journal} << "x";
  }
};

}  // namespace

TEST_CASE("a journal that is open in one window is refused to the next, by any name") {
  const Locked at;
  const auto first = Lock::take(at.journal);
  REQUIRE(first);
  std::filesystem::create_symlink(at.journal, at.folder.path() / "other.jigtime");
  const auto second = Lock::take(at.folder.path() / "other.jigtime");
  REQUIRE_FALSE(second);
  CHECK(second.error().code() == Code::busy);
  CHECK(second.error().message().find("another window") != std::string::npos);
}

TEST_CASE("a closed journal can be opened again") {
  const Locked at;
  { REQUIRE(Lock::take(at.journal)); }
  CHECK(Lock::take(at.journal));
}

TEST_CASE("the lock of a process that was killed is gone") {
  const Locked at;
  int ready[2];
  REQUIRE(::pipe(ready) == 0);
  const pid_t child = ::fork();
  if (child == 0) {
    const auto held = Lock::take(at.journal);
    const char told = held ? 'y' : 'n';
    if (::write(ready[1], &told, 1) == 1) ::pause();
    ::_exit(0);
  }
  char told = 0;
  REQUIRE(::read(ready[0], &told, 1) == 1);
  CHECK(told == 'y');
  CHECK_FALSE(Lock::take(at.journal));
  ::kill(child, SIGKILL);
  ::waitpid(child, nullptr, 0);
  CHECK(Lock::take(at.journal));
  ::close(ready[0]);
  ::close(ready[1]);
}

TEST_CASE("a journal that is not there is said to be missing") {
  const Locked at;
  const auto lock = Lock::take(at.folder.path() / "none.jigtime");
  REQUIRE_FALSE(lock);
  CHECK(lock.error().code() == Code::not_found);
}
