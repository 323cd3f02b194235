#include "app/backroom/lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>
#include <string>
#include <utility>

#include "actions/cache.h"
#include "app/view/words.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

namespace fs = std::filesystem;

fs::path lock_folder() {
  const char* named = std::getenv("XDG_RUNTIME_DIR");
  if (named != nullptr && named[0] == '/') return fs::path{named} / "jigtime";
  return actions::cache_folder() / "open";
}

}  // namespace

Result<Lock> Lock::take(const fs::path& journal) {
  struct stat about {};
  if (::stat(journal.c_str(), &about) != 0) {
    return Error{Code::not_found, say(Word::no_such_journal, {to_utf8(journal.string())})};
  }
  std::error_code ignored;
  const fs::path folder = lock_folder();
  fs::create_directories(folder, ignored);
  const fs::path name = folder / (std::to_string(about.st_dev) + "-" + std::to_string(about.st_ino) + ".lock");
  const int file = ::open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (file < 0) return Lock{-1};
  if (::flock(file, LOCK_EX | LOCK_NB) != 0) {
    ::close(file);
    return Error{Code::busy, say(Word::open_already, {to_utf8(journal.filename().string())})};
  }
  return Lock{file};
}

Lock& Lock::operator=(Lock&& other) noexcept {
  std::swap(file_, other.file_);
  return *this;
}

Lock::~Lock() {
  if (file_ >= 0) ::close(file_);
}

}  // namespace jigtime::app
