#include "actions/cache.h"

#include <algorithm>
#include <cstdlib>
#include <system_error>
#include <vector>

namespace jigtime::actions {

namespace fs = std::filesystem;

fs::path cache_folder() {
  const char* named = std::getenv("XDG_CACHE_HOME");
  if (named != nullptr && named[0] == '/') return fs::path{named} / "jigtime";
  const char* home = std::getenv("HOME");
  if (home != nullptr && home[0] == '/') return fs::path{home} / ".cache" / "jigtime";
  std::error_code none;
  return fs::temp_directory_path(none) / "jigtime-cache";
}

void trim_cache(std::uint64_t most_bytes) {
  struct Kept {
    fs::path path;
    fs::file_time_type used;
    std::uint64_t bytes;
  };
  std::vector<Kept> kept;
  std::uint64_t total = 0;
  std::error_code failure;
  for (fs::directory_iterator entry{cache_folder(), failure}; !failure && entry != fs::directory_iterator{};
       entry.increment(failure)) {
    const fs::path ending = entry->path().extension();
    if (ending != ".sound" && ending != ".features" && ending != ".pairs" && ending != ".photo") continue;
    std::error_code ignored;
    const std::uint64_t bytes = entry->file_size(ignored);
    if (ignored) continue;
    kept.push_back({entry->path(), entry->last_write_time(ignored), bytes});
    total += bytes;
  }
  std::sort(kept.begin(), kept.end(), [](const Kept& a, const Kept& b) { return a.used < b.used; });
  for (const Kept& old : kept) {
    if (total <= most_bytes) return;
    std::error_code ignored;
    if (fs::remove(old.path, ignored)) total -= old.bytes;
  }
}

}  // namespace jigtime::actions
