// Fasteners as they are typed: on the command line, in a table.
#pragma once

#include <string>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::actions {

/// CALLOUT=SET[-DRILLED][:METHOD], e.g. "MS20426AD3-4=58-2:squeezed". Without a method blind rivets are pulled and
/// solid ones driven. The call-out comes back in its canonical spelling. Code::invalid says which part is wrong.
Result<journal::FastenerLine> parse_fastener(const std::string& text);

}  // namespace jigtime::actions
