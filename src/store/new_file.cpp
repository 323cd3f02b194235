#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "store/failure_private.h"
#include "store/new_file_private.h"

namespace jigtime::store {
namespace {

Error not_made(const std::filesystem::path& path, int system_error) {
  const std::string journal = shown(path);
  switch (system_error) {
    case EEXIST:
      return {Code::invalid, journal + " exists already and was left as it is. Choose another name for the new file."};
    case ENOENT:
    case ENOTDIR:
      return {Code::not_found, "The folder of " + journal + " does not exist. Make it first, or choose another."};
    case EACCES:
    case EPERM:
    case EROFS:
      return {Code::denied,
              "The journal " + journal + " cannot be made: its folder is read-only. Choose a folder of your own."};
    case ENOSPC:
    case EDQUOT:
      return {Code::no_space, "The disk is full: the journal " + journal + " was not made. Free some space."};
    case ENAMETOOLONG: return {Code::invalid, "The name " + journal + " is too long. Choose a shorter one."};
    default:
      return {Code::internal, "The journal " + journal + " cannot be made (" + std::strerror(system_error) + ")."};
  }
}

}  // namespace

Result<std::filesystem::path> usable(const std::filesystem::path& path) {
  if (path.empty() || path.native().find('\0') != std::string::npos) {
    return Error{Code::invalid, "The journal's path is empty. Name a file."};
  }
  std::error_code failed;
  std::filesystem::path absolute = std::filesystem::absolute(path, failed);
  if (failed) return Error{Code::not_found, "The folder one is in no longer exists. Change to another."};
  return absolute;
}

Done reserve(const std::filesystem::path& path) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
  if (file < 0) return not_made(path, errno);
  ::close(file);
  return {};
}

void take_away(const std::filesystem::path& path) {
  for (const char* suffix : {"", "-journal", "-wal", "-shm"}) {
    std::error_code ignored;
    std::filesystem::remove(path.string() + suffix, ignored);
  }
}

}  // namespace jigtime::store
