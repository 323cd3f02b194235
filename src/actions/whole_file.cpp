#include "actions/whole_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>

#include "base/text.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

Error failure_of(int number, const fs::path& path) {
  const std::string what = "\"" + path.string() + "\" could not be written (" + std::strerror(number) + ").";
  switch (number) {
    case ENOSPC:
    case EDQUOT: return {Code::no_space, what + " Free some space and try again."};
    case EACCES:
    case EPERM:
    case EROFS: return {Code::denied, what + " Choose a folder that you may write to."};
    case ENOENT:
    case ENOTDIR: return {Code::not_found, what + " Check the folder's name."};
    default: return {Code::internal, what};
  }
}

/// A file descriptor that is closed whatever happens.
class Handle {
 public:
  explicit Handle(int number) : number_{number} {}
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  ~Handle() {
    if (number_ >= 0) ::close(number_);
  }
  int get() const { return number_; }

 private:
  int number_;
};

int write_all(int file, std::span<const std::uint8_t> bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    bytes = bytes.subspan(static_cast<std::size_t>(written));
  }
  return ::fsync(file) == 0 ? 0 : errno;
}

}  // namespace

std::optional<std::vector<std::uint8_t>> read_whole(const fs::path& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file) return std::nullopt;
  std::vector<std::uint8_t> bytes{std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
  if (file.bad()) return std::nullopt;
  return bytes;
}

Done write_whole(const fs::path& path, std::span<const std::uint8_t> bytes) {
  fs::path beside = path;
  beside += ".part" + std::to_string(::getpid());
  int failed = 0;
  {
    const Handle file{::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666)};
    if (file.get() < 0) return failure_of(errno, path);
    failed = write_all(file.get(), bytes);
  }
  if (failed == 0 && ::rename(beside.c_str(), path.c_str()) != 0) failed = errno;
  if (failed != 0) {
    ::unlink(beside.c_str());
    return failure_of(failed, path);
  }
  return {};
}

Done write_whole(const fs::path& path, std::string_view text) {
  const std::vector<std::uint8_t> bytes{text.begin(), text.end()};
  return write_whole(path, bytes);
}

Result<std::string> read_text(const fs::path& path) {
  const auto bytes = read_whole(path);
  if (bytes) return std::string(bytes->begin(), bytes->end());
  return Error{Code::not_found,
               "\"" + to_utf8(path.string()) + "\" cannot be read. Check the path and its permissions."};
}

}  // namespace jigtime::actions
