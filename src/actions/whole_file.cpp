#include "actions/whole_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

#include "base/text.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t largest_text = 256'000'000;

Error failure_of(int number, const fs::path& path) {
  const std::string what = "\"" + to_utf8(path.string()) + "\" could not be written (" + std::strerror(number) + ").";
  switch (number) {
    case ENOSPC:
    case EDQUOT: return {Code::no_space, what + " Free some space and try again."};
    case EFBIG: return {Code::no_space, what + " It is too large for that disk, or for what you may use of it."};
    case EACCES:
    case EPERM:
    case EROFS: return {Code::denied, what + " Choose a folder that you may write to."};
    case ENOENT:
    case ENOTDIR: return {Code::not_found, what + " Check the folder's name."};
    default: return {Code::internal, what};
  }
}

int write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

}  // namespace

std::optional<std::vector<std::uint8_t>> read_whole(const fs::path& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file) return std::nullopt;
  std::vector<std::uint8_t> bytes{std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
  if (file.bad()) return std::nullopt;
  return bytes;
}

Result<PartFile> PartFile::begin(const fs::path& path) {
  fs::path beside = path;
  // Two of one place may be written at once: by two programs, or by one that stages its last word first.
  static std::atomic<int> made{0};
  beside += ".part" + std::to_string(::getpid()) + "-" + std::to_string(++made);
  const int file = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0666);
  if (file < 0) return failure_of(errno, path);
  // Who may read what is written anew stays as it was.
  struct stat there {};
  if (::lstat(path.c_str(), &there) == 0 && S_ISREG(there.st_mode)) {
    static_cast<void>(::fchmod(file, there.st_mode & 0777));
  }
  return PartFile{path, std::move(beside), file};
}

PartFile::PartFile(PartFile&& other) noexcept
    : path_{std::move(other.path_)},
      beside_{std::move(other.beside_)},
      file_{std::exchange(other.file_, -1)},
      waiting_{std::exchange(other.waiting_, false)} {}

PartFile::~PartFile() {
  if (file_ >= 0) ::close(file_);
  if (waiting_) ::unlink(beside_.c_str());
}

Done PartFile::write(std::string_view bytes) {
  if (const int failed = write_all(file_, bytes); failed != 0) return failure_of(failed, path_);
  return {};
}

Done PartFile::finish() {
  const int failed = ::fsync(file_) == 0 ? 0 : errno;
  ::close(std::exchange(file_, -1));
  if (failed != 0) return failure_of(failed, path_);
  return {};
}

Done PartFile::take_place() {
  if (::rename(beside_.c_str(), path_.c_str()) != 0) return failure_of(errno, path_);
  waiting_ = false;
  return {};
}

Done write_whole(const fs::path& path, std::string_view text) {
  auto file = PartFile::begin(path);
  if (!file) return file.error();
  if (Done written = file->write(text); !written) return written;
  if (Done finished = file->finish(); !finished) return finished;
  return file->take_place();
}

Done write_whole(const fs::path& path, std::span<const std::uint8_t> bytes) {
  return write_whole(path, std::string(bytes.begin(), bytes.end()));
}

Result<std::string> read_text(const fs::path& path) {
  const std::string name = "\"" + to_utf8(path.string()) + "\"";
  std::error_code failure;
  const fs::file_status status = fs::status(path, failure);
  // A device never ends, and a pipe waits for whoever may never write to it.
  if (fs::exists(status) && !fs::is_regular_file(status)) {
    return Error{Code::not_found,
                 name + (fs::is_directory(status) ? " is a folder" : " is no plain file") + ". Name a file."};
  }
  if (const auto size = fs::file_size(path, failure); !failure && size > largest_text) {
    return Error{Code::not_found,
                 name + " is larger than any text or table that is read here (256 MB). Name another file."};
  }
  const auto bytes = read_whole(path);
  if (bytes) return std::string(bytes->begin(), bytes->end());
  return Error{Code::not_found, name + " cannot be read. Check the path and its permissions."};
}

}  // namespace jigtime::actions
