// Photos of a session: found in a folder, placed by their camera's clock, kept by digest. The files are never changed.
// Begin reading at: add_photos.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct PhotoFolder {
  std::string camera;          ///< the device's name; one that also filmed has its clock compared by the line-up
  std::filesystem::path path;  ///< a file or a folder
};

struct AddedPhoto {
  std::filesystem::path path;
  std::string camera;
  std::optional<SessionTime> at;  ///< nothing where no clock tells
  Length sigma{0};
};

struct PhotosReport {
  std::vector<AddedPhoto> added;
  int known_already = 0;           ///< in the journal where they are now
  int placed_anew = 0;             ///< known, and the line-up has since told another moment
  int relinked = 0;                ///< known, and found at another path
  int other_day = 0;               ///< more than six hours before or after the session's footage
  int left_out = 0;                ///< files that are no picture of a kind that is read
  std::vector<std::string> notes;  ///< whole sentences
};

/// Nothing is written before every file has been looked at; then all of it is one edit. Errors: not_found (a path),
/// invalid (no camera name), conflict (sealed), cancelled, the store's.
Result<PhotosReport> add_photos(store::Store& store, journal::SessionId session,
                                const std::vector<PhotoFolder>& folders, const Watch& watch);

}  // namespace jigtime::actions
