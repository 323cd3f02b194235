// A folder of files that leave the journal together, and the list of digests by which they are known as ours.
// Must never know: what the files say.
// Begin reading at: write_folder.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

struct OutFile {
  std::string name;  ///< "hours.csv", or "chapters/C01.vtt": one level below the folder at most
  std::string bytes;
};

struct OutFolder {
  std::string title;  ///< one line: what the folder is an export of
  std::vector<OutFile> files;
};

struct Written {
  std::vector<std::filesystem::path> files;
  std::vector<std::string> notes;  ///< of files written before that were changed since and are left where they are
};

/// The list, in the form that sha256sum writes and checks.
inline constexpr const char* list_name = "jigtime-export.sha256";

/// Makes the folder if need be, checks every name first, then writes each file whole or not at all. A file that is
/// there is replaced only when the list knows it with the very bytes it has; files of an earlier export that are no
/// longer part of it are taken away on the same condition. Nothing is written outside the folder, through links
/// neither. Errors: conflict (somebody else's file, one changed since, or another export's folder; nothing was
/// written), busy (another export writes to the folder), denied, no_space, not_found.
Result<Written> write_folder(const std::filesystem::path& folder, const OutFolder& out);

}  // namespace jigtime::actions
