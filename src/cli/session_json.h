// A session's line-up as the contract prints it.
#pragma once

#include "actions/shop.h"
#include "cli/terminal.h"

namespace jigtime::cli {

Json line_up_json(const journal::Register& known, const journal::SessionRecord& record);
/// The same for people.
void say_line_up(Terminal& terminal, const journal::Register& known, const journal::SessionRecord& record);
/// Whether a clip is unreadable or has no place.
bool needs_builder(const journal::SessionRecord& record);

}  // namespace jigtime::cli
