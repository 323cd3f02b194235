// Files read and written as a whole.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

/// All bytes of a file; nothing when it cannot be read.
std::optional<std::vector<std::uint8_t>> read_whole(const std::filesystem::path& path);
/// A file of the builder's own, as it is. Code::not_found when it cannot be read, is no plain file, or is larger than
/// any text that somebody wrote (256 MB).
Result<std::string> read_text(const std::filesystem::path& path);

/// Writes beside `path` and renames, so that `path` holds all of it or what it held before. The file is synced to disk
/// first. Errors: denied, no_space, not_found.
Done write_whole(const std::filesystem::path& path, std::span<const std::uint8_t> bytes);
Done write_whole(const std::filesystem::path& path, std::string_view text);

/// A file being written beside the place it is for, with the permissions of what is there. Gone again unless it took
/// that place.
class PartFile {
 public:
  /// Errors: denied, no_space, not_found.
  static Result<PartFile> begin(const std::filesystem::path& path);
  PartFile(PartFile&& other) noexcept;
  PartFile& operator=(PartFile&&) = delete;
  PartFile(const PartFile&) = delete;
  ~PartFile();

  Done write(std::string_view bytes);
  /// Waits until what was written is on the disk. Nothing can be written after it.
  Done finish();
  /// Renames it; `path` then holds all of it. Precondition: finished.
  Done take_place();
  const std::filesystem::path& path() const { return path_; }

 private:
  PartFile(std::filesystem::path path, std::filesystem::path beside, int file)
      : path_{std::move(path)}, beside_{std::move(beside)}, file_{file} {}

  std::filesystem::path path_;
  std::filesystem::path beside_;
  int file_ = -1;        ///< open until finished
  bool waiting_ = true;  ///< the file beside the place is there and ours
};

}  // namespace jigtime::actions
