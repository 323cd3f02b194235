// The files of a card or folder.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

struct Refused {
  std::filesystem::path path;
  std::string why;  ///< whole sentence
};

struct Scan {
  std::vector<std::filesystem::path> files;  ///< regular files in natural order of their paths ("2" before "10")
  std::vector<Refused> refused;              ///< folders that may not be read
};

/// A file stands for itself; a folder is walked to any depth. Hidden files and folders (a dot in front) are left out,
/// and links to folders are not followed, so that no loop is possible. Code::not_found when `path` does not exist.
Result<Scan> scan(const std::filesystem::path& path);

/// "clip2" before "clip10"; otherwise byte order.
bool natural_less(std::string_view a, std::string_view b);

}  // namespace jigtime::actions
