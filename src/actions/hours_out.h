// Hours for a log that is kept elsewhere.
// Begin reading at: append_sealed_hours.
#pragma once

#include <filesystem>
#include <string>

#include "actions/tally.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Hours of all sessions within the asked days as RFC 4180, one row a session, task and person (`by` is passed over).
Result<std::string> hours_table_csv(const store::Store& store, const HoursAsked& asked);

struct Appended {
  int sessions = 0;  ///< sealed sessions that were added
  int rows = 0;
  int known_already = 0;          ///< sealed sessions that the table had
  int waiting = 0;                ///< sessions with hours that are not sealed yet
  std::vector<int> incomplete{};  ///< numbers of entries of which the table has fewer rows than there are
  std::vector<int> differing{};   ///< and of those whose rows add up to other seconds than the journal's
};

/// Adds to a running table what was sealed since; makes the table when it is not there. A session is known by the
/// digest of its entry, so that asking again adds nothing; rows that are there are left as they are, byte for byte,
/// also where some of an entry's are missing or differ. Through a link the file it leads to is written. The file is
/// whole or as it was. Errors: as RunningTable::read; conflict (a table of another journal), denied, no_space, the
/// store's.
Result<Appended> append_sealed_hours(const store::Store& store, const std::filesystem::path& file);

}  // namespace jigtime::actions
