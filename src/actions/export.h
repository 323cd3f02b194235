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
  std::vector<std::string> notes;  ///< stills that could not be made, and why
};

/// Writes timeline.html and hours.csv into `folder`, which is made if need be. Each file is whole or as it was; a file
/// of that name that Jigtime did not write is left alone and is Code::conflict. Stills come from the footage where it
/// is; a mark without one says so.
Result<Exported> export_session(const store::Store& store, journal::SessionId session,
                                const std::filesystem::path& folder, const Watch& watch);

}  // namespace jigtime::actions
