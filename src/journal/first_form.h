// Texts of the first form hold names without ids. Who is meant shows from where a name stands: in which span, which
// clip. Private to the seal.
// Must never know: the second form.
// Begin reading at: first_form_register.
#pragma once

#include <string>
#include <vector>

#include "journal/restorer.h"

namespace jigtime::journal {

/// Clips in the order of the text, told by their files' digests, with the file names of that day.
SessionRecord first_form_record(const Facts& facts, SessionRecord record);

/// The register with the names of that day. A row counts as renamed when everywhere the record has it the text has one
/// and the same other name, which today no other row bears; else the difference is left to be found.
/// `record` is as first_form_record gave it.
Register first_form_register(const Facts& facts, Register known, const SessionRecord& record,
                             std::vector<std::string>& renamed);

}  // namespace jigtime::journal
