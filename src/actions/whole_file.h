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
/// A file of the builder's own, as it is. Code::not_found when it cannot be read.
Result<std::string> read_text(const std::filesystem::path& path);

/// Writes beside `path` and renames, so that `path` holds all of it or what it held before. The file is synced to disk
/// first. Errors: denied, no_space, not_found.
Done write_whole(const std::filesystem::path& path, std::span<const std::uint8_t> bytes);
Done write_whole(const std::filesystem::path& path, std::string_view text);

}  // namespace jigtime::actions
