// What the line-up found out, in a builder's words.
#pragma once

#include <string>
#include <vector>

#include "journal/values.h"
#include "sync/line_up.h"

namespace jigtime::actions {

/// One whole sentence. `clips` are those the line-up was given, in its order; `zero_shift` is added to session times in
/// the note.
std::string describe(const sync::Note& note, const std::vector<journal::Clip>& clips, Length zero_shift);

/// "0.42 s", "1 min 5 s", "1 h 0 min": lengths as people say them.
std::string spoken(Length length);

}  // namespace jigtime::actions
