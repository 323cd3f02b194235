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

}  // namespace jigtime::actions
