#include "media/libav/file_io.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>

#include "base/text.h"
#include "media/libav/error.h"

namespace jigtime::media {
namespace {

// After a seek 4 KiB are asked for, then twice as much with every read that goes on from the last: the sound of an
// MP4 lies in small chunks between the pictures, and reading the pictures too would cost fifty times as much.
constexpr int least_read = 4 * 1024;
constexpr int most_read = 64 * 1024;

std::string named(const std::filesystem::path& path) { return "\"" + to_utf8(path.filename().string()) + "\""; }

}  // namespace

Result<std::unique_ptr<FileIo>> FileIo::read(const std::filesystem::path& path, std::stop_token stop) {
  quieten_libav();
  forget_complaint();
  // Without O_NONBLOCK a named pipe would wait for a writer for ever.
  const int descriptor = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (descriptor < 0) return from_errno(errno, named(path) + " cannot be opened");
  std::unique_ptr<FileIo> file{new FileIo{descriptor}};
  struct stat status {};
  if (::fstat(descriptor, &status) != 0) return from_errno(errno, named(path) + " cannot be looked at");
  if (S_ISDIR(status.st_mode)) return Error{Code::unsupported, named(path) + " is a folder. Name a file in it."};
  if (!S_ISREG(status.st_mode)) return Error{Code::unsupported, named(path) + " is no file but a device or a pipe."};
  if (status.st_size == 0) {
    return Error{Code::unreadable, named(path) +
                                       " is empty: nothing was recorded into it or the copy failed. "
                                       "Copy it again from the card; if it is empty there, it is lost."};
  }
  file->size_ = status.st_size;
  file->stop_ = std::move(stop);
  if (const Done made = file->make_context(0); !made) return made.error();
  return file;
}

Result<std::unique_ptr<FileIo>> FileIo::write(const std::filesystem::path& path) {
  quieten_libav();
  forget_complaint();
  const int descriptor = ::open(path.c_str(), O_RDWR | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (descriptor < 0) return from_errno(errno, named(path) + " cannot be written");
  std::unique_ptr<FileIo> file{new FileIo{descriptor}};
  if (const Done made = file->make_context(1); !made) return made.error();
  return file;
}

Done FileIo::make_context(int writable) {
  auto* buffer = static_cast<std::uint8_t*>(av_malloc(most_read));
  if (buffer == nullptr) return Error{Code::internal, "There is not enough memory to open a file."};
  io_.reset(avio_alloc_context(buffer, most_read, writable, this, on_read, on_write, on_seek));
  if (io_ == nullptr) {
    av_free(buffer);
    return Error{Code::internal, "There is not enough memory to open a file."};
  }
  return {};
}

FileIo::~FileIo() { ::close(descriptor_); }

int FileIo::read_at(std::int64_t offset, std::uint8_t* into, int size) {
  ssize_t got = 0;
  do {
    got = ::pread(descriptor_, into, static_cast<std::size_t>(size), offset);
  } while (got < 0 && errno == EINTR);
  if (got < 0) return AVERROR(errno);
  bytes_read_ += static_cast<std::uint64_t>(got);
  return static_cast<int>(got);
}

int FileIo::on_read(void* opaque, std::uint8_t* into, int size) {
  auto* self = static_cast<FileIo*>(opaque);
  if (self->stop_.stop_requested()) return AVERROR_EXIT;
  self->appetite_ = self->position_ == self->next_read_ ? std::min(self->appetite_ * 2, most_read) : least_read;
  const int got = self->read_at(self->position_, into, std::min(size, self->appetite_));
  if (got == 0) return AVERROR_EOF;
  if (got < 0) return got;
  self->position_ += got;
  self->next_read_ = self->position_;
  return got;
}

int FileIo::on_write(void* opaque, std::uint8_t* from, int size) {
  auto* self = static_cast<FileIo*>(opaque);
  int written = 0;
  while (written < size) {
    const ssize_t now =
        ::pwrite(self->descriptor_, from + written, static_cast<std::size_t>(size - written), self->position_);
    if (now < 0 && errno == EINTR) continue;
    if (now < 0) return AVERROR(errno);
    written += static_cast<int>(now);
    self->position_ += now;
  }
  self->size_ = std::max(self->size_, self->position_);
  return size;
}

std::int64_t FileIo::on_seek(void* opaque, std::int64_t offset, int whence) {
  auto* self = static_cast<FileIo*>(opaque);
  switch (whence & ~AVSEEK_FORCE) {
    case AVSEEK_SIZE: return self->size_;
    case SEEK_SET: break;
    case SEEK_CUR: offset += self->position_; break;
    case SEEK_END: offset += self->size_; break;
    default: return AVERROR(EINVAL);
  }
  if (offset < 0) return AVERROR(EINVAL);
  self->position_ = offset;
  return offset;
}

}  // namespace jigtime::media
