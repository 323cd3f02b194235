// The disposable cache: what was worked out from footage and can be worked out again.
#pragma once

#include <cstdint>
#include <filesystem>

namespace jigtime::actions {

/// A folder for what can be made again: $XDG_CACHE_HOME/jigtime, else ~/.cache/jigtime, else one under the folder for
/// temporary files. Never an error: where nothing can be kept, everything is simply made again.
std::filesystem::path cache_folder();

/// Deletes the least recently used files of the cache folder until it holds at most `most_bytes`. Only files that
/// Jigtime itself names (ending .sound, .features, .pairs or .photo) are touched.
void trim_cache(std::uint64_t most_bytes);

}  // namespace jigtime::actions
