// One window a journal: held by the operating system, gone with the process however it ends.
#pragma once

#include <filesystem>
#include <optional>

#include "base/result.h"

namespace jigtime::app {

class Lock {
 public:
  /// Code::busy when another window has the journal open; not_found when it does not exist. The lock is a file of its
  /// own, named for the journal's device and inode, so that every path to the journal means the same lock. Where no
  /// such file can be made, the journal opens without one.
  static Result<Lock> take(const std::filesystem::path& journal);
  Lock(Lock&& other) noexcept : file_{other.file_} { other.file_ = -1; }
  Lock& operator=(Lock&& other) noexcept;
  ~Lock();

 private:
  explicit Lock(int file) : file_{file} {}
  int file_ = -1;
};

}  // namespace jigtime::app
