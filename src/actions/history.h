// Taking back, doing again, looking back, and a copy to be safe.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Opens a journal for the person at this computer: their name stands in the history beside every edit.
Result<store::Store> open_journal(const std::filesystem::path& path);

/// What the system calls the person at this computer; empty where it does not say.
std::string name_here();

/// As Store::undo, redo and history.
Result<store::Change> undo(store::Store& store);
Result<store::Change> redo(store::Store& store);
Result<std::vector<store::Change>> history(const store::Store& store, int most);

/// A whole copy as a new file, also while the journal is in use. Errors: invalid (there already, or it is the journal
/// itself), not_found, denied, no_space.
Done back_up(const store::Store& store, const std::filesystem::path& to);

}  // namespace jigtime::actions
