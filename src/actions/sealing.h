// Sealing a session's entry, and checking the chain of them.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct Sealed {
  journal::Entry entry;
  std::vector<std::string> notes;  ///< what the builder may have overlooked: clips without a place, untagged footage
};

/// Writes the session's entry and makes the session immutable. `now` is stamped into it. Errors: conflict (sealed
/// already), the store's.
Result<Sealed> seal_session(store::Store& store, journal::SessionId session, WallTime now);

struct Verification {
  int entries = 0;
  std::vector<std::string> faults;             ///< what does not fit, first things first: whole sentences
  std::vector<std::filesystem::path> missing;  ///< footage of sealed sessions that is not where it was
  bool sound() const { return faults.empty(); }
};

/// Checks the file's integrity, the chain, every entry against the record it was made from, and footage that is there
/// against its digest.
Result<Verification> verify_journal(const store::Store& store, const Watch& watch);

}  // namespace jigtime::actions
