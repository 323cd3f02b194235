// Rules of validity: every edit passes here before it is stored.
// Must never know: where the record is kept, who asks.
// Begin reading at: check(Span).
//
// Every failure is Code::invalid, and its message says what to mend. Rules that need the rest of the record (a name
// is there once, a session is sealed) are the store's.
#pragma once

#include <string_view>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::journal {

/// More of one call-out than any aircraft has: a slip of the keyboard.
inline constexpr int most_fasteners = 1'000'000;
/// Thicker stacks are not riveted: millionths of an inch.
inline constexpr int thickest_grip_uin = 4'000'000;
/// A clock that is further off than this is not a clock: parts per billion.
inline constexpr std::int64_t most_rate_ppb = 1'000'000;

/// begin < end, begin not before the session's zero, work has a task, all ids exist in the register, no person twice,
/// call-outs and counts valid (set >= 1, 0 <= drilled <= set), a break sets no fasteners, text is UTF-8.
Done check(const Span& span, const Register& known);
Done check(const Mark& mark);
/// Preconditions: the clips are those that the tie names.
Done check(const Tie& tie, const Clip& a, const Clip& b);
/// The placement is the clip's; pieces in order, apart and inside the clip, |rate| <= 1000 ppm; none exactly when the
/// basis is none.
Done check(const Placement& placement, const Clip& clip);
Done check(const Proposal& proposal);

Done check(const Build& build);
Done check(const Person& person);
/// Besides the name: no '/', which stands between the levels of a path.
Done check(const Assembly& assembly);
Done check(const Task& task);
/// Call-out in its canonical spelling, count from 0 (which takes the line away) to most_fasteners, a grip from 1 to
/// thickest_grip_uin or none.
Done check(const PlannedFastener& planned);
Done check(const Camera& camera);
/// A date of the calendar in the years 0 to 9999.
Done check(const Session& session);
/// At least one part, parts in order, nothing negative.
Done check(const Clip& clip);

/// Line numbers once each; every line that applies split into exactly ten tenths, every other into none.
Done check(const Checklist& list);
/// Words; a moment and a mark only with a session; a closing not before the opening, with its span's session.
Done check(const OpenItem& item);
/// Who and what; a moment only with a session; cleared not before the day it was made.
Done check(const Inspection& inspection);
Done check(const Photo& photo);
/// A digest of 64 hexadecimal digits, a moment that can be.
Done check(const Still& still);
/// A date and a reason; a kept copy with what it is, or none.
Done check(const LetGo& let_go);

/// Not blank, no blank at either end, UTF-8, no control characters, at most 200 bytes. `what` begins a sentence: "The
/// person's name".
Done check_name(std::string_view name, std::string_view what);
/// As check_name, but it may be empty.
Done check_short_text(std::string_view text, std::string_view what);
/// UTF-8; no control characters but tab and line ends.
Done check_note(std::string_view text, std::string_view what);

}  // namespace jigtime::journal
