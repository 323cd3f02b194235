// Where a session's footage is, and what was let go of it. No source is ever deleted here.
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

enum class FootageState {
  present,    ///< where the journal says, and the same file
  elsewhere,  ///< not there: moved, or its disk is not attached
  let_go,     ///< given up on purpose
};
std::string_view state_text(FootageState state);

struct FootageFile {
  journal::ClipId clip;
  journal::PartId part;
  std::string camera;
  std::string clip_name;
  std::filesystem::path path;
  FootageState state = FootageState::present;
  std::string why;  ///< whole sentence for what is not present; empty otherwise
};

/// Every part of every clip, in order. Reads at most 128 KiB of each file.
Result<std::vector<FootageFile>> list_footage(const store::Store& store, journal::SessionId session);

/// The part's file, if its footage is present; otherwise why not and what can be done: not_found.
Result<std::filesystem::path> source_of(const journal::Clip& clip, const journal::Part& part);

struct GivenUp {
  int stills_kept = 0;                                   ///< of the clip's marks, before it goes
  std::vector<std::string> notes;                        ///< stills that could not be kept, and why
  std::vector<std::filesystem::path> files_still_there;  ///< deleting them is up to the builder
};
/// `clip` is the file name of a clip's first part (as Clip::name). Allowed for sealed sessions. `kept_copy` may be
/// empty; otherwise that file is kept as evidence with its digest. Errors: not_found, invalid (no reason), conflict.
struct LettingGo {
  std::string clip;
  std::string reason;
  std::chrono::year_month_day on;
  std::filesystem::path kept_copy;
};
Result<GivenUp> let_footage_go(store::Store& store, journal::SessionId session, const LettingGo& what,
                               const Watch& watch);

struct FoundAgain {
  int relinked = 0;
  std::vector<std::filesystem::path> missing;  ///< where the journal still expects a file that is not there
};
/// Walks the folder for files of the session (of all sessions where none is given) that are not where the journal
/// says, and takes them where size and digest agree.
Result<FoundAgain> look_in(store::Store& store, std::optional<journal::SessionId> session,
                           const std::filesystem::path& folder, const Watch& watch);

}  // namespace jigtime::actions
