// From the cameras' cards into the journal.
// Begin reading at: import_footage.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct CameraFolder {
  std::string camera;
  std::filesystem::path path;  ///< a file or a folder
};

struct ImportRequest {
  std::optional<std::chrono::year_month_day> session;  ///< nothing: told from the clocks
  std::vector<CameraFolder> folders;                   ///< a camera may have several
};

struct ImportedClip {
  std::string camera;
  std::chrono::year_month_day session;
  std::vector<std::filesystem::path> files;
  Length length{0};
};

struct UnreadableFile {
  std::string camera;
  std::filesystem::path path;
  std::string why;
};

struct ImportReport {
  std::vector<ImportedClip> clips;         ///< what is new
  std::vector<UnreadableFile> unreadable;  ///< listed in the journal too
  int known_already = 0;                   ///< files that were in the journal where they are now
  int relinked = 0;                        ///< files that were in the journal and have moved
  int left_out = 0;                        ///< files that are no footage (texts, thumbnails, indexes)
  std::vector<std::string> notes;          ///< whole sentences
};

/// Sources are opened read-only. Nothing is written before every file has been looked at; then all of it is one edit. A
/// file that cannot be read is listed with its reason and stops nothing. Footage that is in the journal already is not
/// added twice; if it has moved, the journal follows. Errors: not_found (a path does not exist), invalid (no camera
/// name), cancelled, and the store's.
Result<ImportReport> import_footage(store::Store& store, const ImportRequest& request, const Watch& watch);

}  // namespace jigtime::actions
