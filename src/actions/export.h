// A session leaves the journal as files that open anywhere.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct Exported {
  std::vector<std::filesystem::path> files;
  std::vector<std::string> notes;  ///< stills that could not be made, and why; files that were left alone
};

/// Writes the session into `folder` as a page, a drawing, tables, chapters, a cut list, a calendar event and the whole
/// record; about.txt there says what each file is. Files are replaced only when they are ours (see out_folder.h).
/// Stills come from the footage where it is, else from the journal; a mark without one says so. `now` is stamped into
/// what has a time of writing. Errors: as write_folder, cancelled, the store's.
Result<Exported> export_session(const store::Store& store, journal::SessionId session,
                                const std::filesystem::path& folder, WallTime now, const Watch& watch);

}  // namespace jigtime::actions
