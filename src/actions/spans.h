// Spans that are there already: cut, trimmed, joined, copied, changed, deleted.
#pragma once

#include <optional>
#include <vector>

#include "actions/tagging.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Every one is one edit, so one undo takes it back. Errors: not_found (no such span in that session), conflict
/// (sealed), and those of journal/span_edits.h.

/// Returns the new, second span. What was set and noted stays with the first.
Result<journal::SpanId> split_span(store::Store& store, journal::SessionId session, journal::SpanId span,
                                   SessionTime at);

/// All of them at `at`, as one edit.
Done split_spans(store::Store& store, journal::SessionId session, const std::vector<journal::SpanId>& spans,
                 SessionTime at);

Done trim_span(store::Store& store, journal::SessionId session, journal::SpanId span, std::optional<SessionTime> from,
               std::optional<SessionTime> to);

/// The first stays, over the time of both; open items that the second closed are closed by the first.
Done join_spans(store::Store& store, journal::SessionId session, journal::SpanId first, journal::SpanId second);

/// Open items that it closed wait again.
Done delete_span(store::Store& store, journal::SessionId session, journal::SpanId span);
/// All of them, as one edit.
Done delete_spans(store::Store& store, journal::SessionId session, const std::vector<journal::SpanId>& spans);

/// The same task and people once more: from its end, or `from`, to the beginning of the next span, or as long as it
/// lasted, or `to`.
Result<journal::SpanId> copy_span(store::Store& store, journal::SessionId session, journal::SpanId span,
                                  std::optional<SessionTime> from, std::optional<SessionTime> to);

/// What is given replaces what the span says; the rest stays.
struct SpanChange {
  std::optional<std::string> task;
  std::optional<std::vector<std::string>> people;
  std::optional<std::vector<std::string>> fasteners;  ///< CALLOUT=SET[-DRILLED]
  std::optional<std::string> note;
};
Done change_span(store::Store& store, journal::SessionId session, journal::SpanId span, const SpanChange& change);

}  // namespace jigtime::actions
