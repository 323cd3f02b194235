// A span cut in two, made shorter or longer, joined with another, begun anew behind itself.
// Must never know: where spans are kept, who asks.
//
// Several people at once are one span with several names. Several tasks at once are several spans over the same time:
// hours.h says whose a shared minute is.
#pragma once

#include <optional>
#include <utility>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::journal {

/// Two spans of the same work that meet at `at`; the second one has no id. What was set and noted stays with the first:
/// it must not be counted twice. Code::invalid when `at` is not inside the span.
Result<std::pair<Span, Span>> split(const Span& span, SessionTime at);

/// The span between other ends; what is not given stays. Code::invalid when nothing of it would be left.
Result<Span> trimmed(const Span& span, std::optional<SessionTime> begin, std::optional<SessionTime> end);

/// One span over both, with the id of the first, both notes, and fasteners of the same call-out and method added up.
/// Code::invalid when they are of different sessions, kinds, tasks or people, or when there is time between them: a
/// join must not change anybody's hours.
Result<Span> joined(const Span& first, const Span& second);

/// The same task and people in [begin, end), without what was set and noted. No id.
Span copied(const Span& span, SessionTime begin, SessionTime end);

}  // namespace jigtime::journal
