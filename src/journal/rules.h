// Rules of validity: every edit passes here before it is stored.
#pragma once

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::journal {

/// begin < end, begin not before the session's zero, work has a task, all ids exist in the register, no person twice,
/// call-outs and counts valid (set >= 1, 0 <= drilled <= set), text is UTF-8. The message says what to mend.
Done check(const Span& span, const Register& known);
Done check(const Mark& mark);
Done check(const Placement& placement,
           const Clip& clip);  ///< pieces in order, apart, inside the clip, |rate| <= 1000 ppm
Done check_name(std::string_view name,
                std::string_view what);  ///< not blank, UTF-8, no control characters, at most 200 bytes

}  // namespace jigtime::journal
