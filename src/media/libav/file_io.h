// libav's reading and writing, over a plain file descriptor: no protocols, no names that mean something else.
#pragma once

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <stop_token>

#include "base/result.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// A file open for reading only (the builder's footage) or for writing (a new file of ours). Must outlive the
/// contexts that use its io(). Not to be moved: libav holds its address.
class FileIo {
 public:
  /// Errors: not_found, denied, unsupported (a folder or a device), unreadable (an empty file).
  static Result<std::unique_ptr<FileIo>> read(const std::filesystem::path& path, std::stop_token stop);
  /// Makes the file, or empties the one that is there.
  static Result<std::unique_ptr<FileIo>> write(const std::filesystem::path& path);
  FileIo(const FileIo&) = delete;
  FileIo& operator=(const FileIo&) = delete;
  ~FileIo();

  AVIOContext* io() const { return io_.get(); }
  std::int64_t size() const { return size_; }
  std::uint64_t bytes_read() const { return bytes_read_; }
  bool stop_requested() const { return stop_.stop_requested(); }
  /// Up to `size` bytes at `offset`, past libav's buffer; fewer at the end of the file.
  int read_at(std::int64_t offset, std::uint8_t* into, int size);

 private:
  explicit FileIo(int descriptor) : descriptor_{descriptor} {}
  Done make_context(int writable);
  static int on_read(void* self, std::uint8_t* into, int size);
  static int on_write(void* self, std::uint8_t* from, int size);
  static std::int64_t on_seek(void* self, std::int64_t offset, int whence);

  int descriptor_;
  std::int64_t size_ = 0;
  std::int64_t position_ = 0;
  std::int64_t next_read_ = -1;  ///< where a read goes on without a seek
  int appetite_ = 0;             ///< bytes the next read asks for: small after a seek, growing while reading on
  std::uint64_t bytes_read_ = 0;
  std::stop_token stop_;
  IoPtr io_;
};

}  // namespace jigtime::media
