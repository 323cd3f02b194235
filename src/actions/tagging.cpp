#include "actions/tagging.h"

#include "actions/add_row.h"
#include "actions/clerk.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

/// Inside an edit.
Result<Tagged> write_spans(store::Edit& edit, const journal::Register& known, journal::SessionId session,
                           const std::vector<SpanWords>& spans) {
  Tagged tagged;
  Clerk clerk{edit, known};
  std::vector<std::string> faults;
  for (const SpanWords& words : spans) {
    const auto span = clerk.span_of(session, words);
    const auto added = span ? edit.add(*span) : Result<journal::SpanId>{span.error()};
    if (added) {
      tagged.spans.push_back(*added);
    } else if (words.line == 0 || added.error().code() != Code::invalid) {
      return added.error();
    } else {
      faults.push_back("line " + std::to_string(words.line) + ": " + added.error().message());
    }
  }
  if (!faults.empty()) return all_of(faults);
  tagged.created = clerk.take_created();
  return tagged;
}

template <class FindSession>
Result<Tagged> add_spans_to(store::Store& store, const std::vector<SpanWords>& spans, FindSession find_session) {
  const auto known = store.known();
  if (!known) return known.error();
  Tagged tagged;
  const Done done = store.edit(spans.size() == 1 ? "tag a span" : "tag spans", [&](store::Edit& edit) -> Done {
    const Result<journal::SessionId> session = find_session(edit);
    if (!session) return session.error();
    auto written = write_spans(edit, *known, *session, spans);
    if (!written) return written.error();
    tagged = *std::move(written);
    return {};
  });
  if (!done) return done.error();
  return tagged;
}

}  // namespace

Result<Tagged> add_spans(store::Store& store, journal::SessionId session, const std::vector<SpanWords>& spans) {
  return add_spans_to(store, spans, [&](store::Edit&) -> Result<journal::SessionId> { return session; });
}

Result<Tagged> add_spans(store::Store& store, const journal::Session& fresh, const std::vector<SpanWords>& spans) {
  return add_spans_to(store, spans, [&](store::Edit& edit) { return edit.add(fresh); });
}

Error all_of(const std::vector<std::string>& faults) {
  std::string message;
  for (const std::string& fault : faults) message += fault + "\n";
  return {Code::invalid, message + "Nothing was tagged."};
}

namespace {

Result<journal::Mark> mark_in(const store::Store& store, journal::SessionId session, journal::MarkId mark) {
  const auto record = store.record(session);
  if (!record) return record.error();
  for (const journal::Mark& there : record->marks) {
    if (there.id == mark) return there;
  }
  return Error{Code::not_found, "There is no mark " + std::to_string(mark.value) +
                                    " in that session. \"jigtime show\" prints the marks with their numbers."};
}

}  // namespace

Result<journal::MarkId> add_mark(store::Store& store, journal::SessionId session, SessionTime at,
                                 const std::string& note) {
  return add_row(store, "set a mark", journal::Mark{{}, session, at, note});
}

Done change_mark(store::Store& store, journal::SessionId session, journal::MarkId mark, SessionTime at,
                 const std::string& note) {
  if (const auto there = mark_in(store, session, mark); !there) return there.error();
  return store.edit("change a mark", [&](store::Edit& edit) {
    return edit.update(journal::Mark{mark, session, at, note});
  });
}

Result<journal::MarkId> copy_mark(store::Store& store, journal::SessionId session, journal::MarkId mark,
                                  SessionTime to) {
  auto copy = mark_in(store, session, mark);
  if (!copy) return copy.error();
  if (copy->at == to) {
    return Error{Code::invalid, "Mark " + std::to_string(mark.value) + " stands at " + to_clock_text(to) +
                                    " itself. Name another moment for its copy."};
  }
  copy->at = to;
  return add_row(store, "copy a mark", *copy);
}

Done delete_mark(store::Store& store, journal::SessionId session, journal::MarkId mark) {
  if (const auto there = mark_in(store, session, mark); !there) return there.error();
  return store.edit("delete a mark", [&](store::Edit& edit) { return edit.remove(mark); });
}

}  // namespace jigtime::actions
