// A line of fasteners as it is typed at the bench: "3-4 x 72", "426 3-4 x 72-2 squeezed", "MS20426AD3-4 x 72".
// Must never know: ImGui, the store.
// Begin reading at: read_fasteners.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::app {

/// The call-outs that a short form may mean, likeliest first, each once: those planned for the task, those planned for
/// other tasks, those set before.
std::vector<std::string> likely_callouts(const journal::Register& known, const journal::SessionRecord& record,
                                         std::string_view task);

/// As actions take them: CALLOUT=SET[-DRILLED][:METHOD]. What is typed is a call-out, then x (or * or =) and how many
/// were set, then, if wanted, - and how many of them were drilled out again, then how: driven, squeezed, pulled. A
/// short call-out gives the diameter and length numbers alone (3-4, a comma may stand for the point), with the sheet's
/// last digits in front where several sheets could be meant (426 3-4). It means the likely call-out that has them.
/// Code::invalid says which part is missing or which call-outs it could be; nothing is guessed.
Result<std::string> read_fasteners(std::string_view typed, const std::vector<std::string>& likely);

/// What a drawing asks for, typed the same way: "3-4 x 72", and behind an @ the thickness of the stack in inches if
/// wanted. As actions take it: CALLOUT=COUNT[@GRIP]. A count of 0 takes the line out of the plan.
Result<std::string> read_planned(std::string_view typed, const std::vector<std::string>& likely);

/// Lines that what is typed could become, at most `most`: the likely call-outs first, then those that the handbook has.
/// Each is a whole call-out with what was typed behind it.
std::vector<std::string> completions(std::string_view typed, const std::vector<std::string>& likely, std::size_t most);

}  // namespace jigtime::app
