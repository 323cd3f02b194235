// The disposable cache: what was worked out from footage and can be worked out again.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

/// A folder for what can be made again: $XDG_CACHE_HOME/jigtime, else ~/.cache/jigtime, else one under the folder for
/// temporary files. Never an error: where nothing can be kept, everything is simply made again.
std::filesystem::path cache_folder();

/// Deletes the least recently used files of the cache folder until it holds at most `most_bytes`. Only files that
/// Jigtime itself names (ending .sound or .features) are touched.
void trim_cache(std::uint64_t most_bytes);

/// All bytes of a file; nothing when it cannot be read.
std::optional<std::vector<std::uint8_t>> read_whole(const std::filesystem::path& path);

/// Writes beside `path` and renames, so that `path` holds all of it or what it held before. The file is synced to disk
/// first. Errors: denied, no_space, not_found.
Done write_whole(const std::filesystem::path& path, std::span<const std::uint8_t> bytes);
Done write_whole(const std::filesystem::path& path, std::string_view text);

}  // namespace jigtime::actions
