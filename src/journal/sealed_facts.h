// What a sealed entry says, held against what the journal holds now.
// Must never know: where either is kept.
// Begin reading at: compare.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "journal/seal.h"

namespace jigtime::journal {

struct Comparison {
  /// The first line that no longer fits, as a whole sentence; nothing when all do.
  std::optional<std::string> fault;
  /// People, tasks and cameras that are called otherwise now, and settings of the build that were changed: whole
  /// sentences. The entry stands as it was sealed.
  std::vector<std::string> renamed;
};

/// Holds the record against the entry that sealed it. Told from a change of the record: another name, role, assembly or
/// plan reference of a person, task or camera with the same id; another setting of the build; files that were found
/// again under another name; and what came later (footage let go, findings cleared, items closed elsewhere). Texts of
/// the first form have no ids: who was renamed shows from where the names stand (first_form.h).
Comparison compare(const Entry& entry, const Build& build, const Register& known, const SessionRecord& record);

}  // namespace jigtime::journal
