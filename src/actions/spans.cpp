#include "actions/spans.h"

#include <algorithm>

#include "actions/add_row.h"
#include "actions/clerk.h"
#include "base/text.h"
#include "journal/span_edits.h"

namespace jigtime::actions {
namespace {

Result<journal::Span> span_in(const journal::SessionRecord& record, journal::SpanId id) {
  for (const journal::Span& span : record.spans) {
    if (span.id == id) return span;
  }
  return Error{Code::not_found, "There is no span " + std::to_string(id.value) + " in the session of " +
                                    to_text(record.session.date) +
                                    ". \"jigtime show\" prints the spans with their numbers."};
}

Result<journal::Span> span_in(const store::Store& store, journal::SessionId session, journal::SpanId id) {
  const auto record = store.record(session);
  return record ? span_in(*record, id) : Result<journal::Span>{record.error()};
}

/// Where a copy ends that begins at `begin`.
SessionTime end_of_copy(const journal::SessionRecord& record, const journal::Span& span, SessionTime begin) {
  SessionTime end = begin + (span.end - span.begin);
  for (const journal::Span& other : record.spans) {
    if (other.begin > begin) end = std::min(end, other.begin);
  }
  return end;
}

}  // namespace

Result<journal::SpanId> split_span(store::Store& store, journal::SessionId session, journal::SpanId id,
                                   SessionTime at) {
  const auto span = span_in(store, session, id);
  if (!span) return span.error();
  const auto halves = journal::split(*span, at);
  if (!halves) return halves.error();
  journal::SpanId second;
  const Done done = store.edit("split a span", [&](store::Edit& edit) -> Done {
    if (Done first = edit.update(halves->first); !first) return first;
    const auto added = edit.add(halves->second);
    if (!added) return added.error();
    second = *added;
    return {};
  });
  return done ? Result<journal::SpanId>{second} : done.error();
}

Done split_spans(store::Store& store, journal::SessionId session, const std::vector<journal::SpanId>& spans,
                 SessionTime at) {
  const auto record = store.record(session);
  if (!record) return record.error();
  return store.edit("split spans", [&](store::Edit& edit) -> Done {
    for (const journal::SpanId id : spans) {
      const auto span = span_in(*record, id);
      if (!span) return span.error();
      const auto halves = journal::split(*span, at);
      if (!halves) return halves.error();
      if (Done first = edit.update(halves->first); !first) return first;
      if (const auto added = edit.add(halves->second); !added) return added.error();
    }
    return {};
  });
}

Done trim_span(store::Store& store, journal::SessionId session, journal::SpanId id, std::optional<SessionTime> from,
               std::optional<SessionTime> to) {
  const auto span = span_in(store, session, id);
  if (!span) return span.error();
  const auto trimmed = journal::trimmed(*span, from, to);
  if (!trimmed) return trimmed.error();
  return store.edit("trim a span", [&](store::Edit& edit) { return edit.update(*trimmed); });
}

Done join_spans(store::Store& store, journal::SessionId session, journal::SpanId first, journal::SpanId second) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto one = span_in(*record, first);
  if (!one) return one.error();
  const auto other = span_in(*record, second);
  if (!other) return other.error();
  const auto both = journal::joined(*one, *other);
  if (!both) return both.error();
  return store.edit("join spans", [&](store::Edit& edit) -> Done {
    if (Done updated = edit.update(*both); !updated) return updated;
    for (journal::OpenItem item : record->items) {
      if (!item.closing || item.closing->span != second) continue;
      item.closing->span = first;
      if (Done moved = edit.update(item); !moved) return moved;
    }
    return edit.remove(second);
  });
}

Done delete_span(store::Store& store, journal::SessionId session, journal::SpanId id) {
  const auto span = span_in(store, session, id);
  if (!span) return span.error();
  return store.edit("delete a span", [&](store::Edit& edit) { return edit.remove(id); });
}

Done delete_spans(store::Store& store, journal::SessionId session, const std::vector<journal::SpanId>& spans) {
  const auto record = store.record(session);
  if (!record) return record.error();
  return store.edit("delete spans", [&](store::Edit& edit) -> Done {
    for (const journal::SpanId id : spans) {
      if (const auto span = span_in(*record, id); !span) return span.error();
      if (Done removed = edit.remove(id); !removed) return removed;
    }
    return {};
  });
}

Result<journal::SpanId> copy_span(store::Store& store, journal::SessionId session, journal::SpanId id,
                                  std::optional<SessionTime> from, std::optional<SessionTime> to) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto span = span_in(*record, id);
  if (!span) return span.error();
  const SessionTime begin = from.value_or(span->end);
  const journal::Span copy = journal::copied(*span, begin, to.value_or(end_of_copy(*record, *span, begin)));
  return add_row(store, "copy a span", copy);
}

Done change_span(store::Store& store, journal::SessionId session, journal::SpanId id, const SpanChange& change) {
  const auto known = store.known();
  if (!known) return known.error();
  const auto span = span_in(store, session, id);
  if (!span) return span.error();
  return store.edit("change a span", [&](store::Edit& edit) -> Done {
    Clerk clerk{edit, *known};
    SpanWords words;
    words.task = change.task.value_or("");
    words.people = change.people.value_or(std::vector<std::string>{});
    words.fasteners = change.fasteners.value_or(std::vector<std::string>{});
    const auto given = clerk.span_of(session, words);
    if (!given) return given.error();
    journal::Span changed = *span;
    if (change.task) changed.task = given->task;
    if (change.people) changed.people = given->people;
    if (change.fasteners) changed.fasteners = given->fasteners;
    if (change.note) changed.note = *change.note;
    return edit.update(changed);
  });
}

}  // namespace jigtime::actions
