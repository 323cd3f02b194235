#include "actions/tagging.h"

#include "actions/clerk.h"

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

Result<journal::MarkId> add_mark(store::Store& store, journal::SessionId session, SessionTime at,
                                 const std::string& note) {
  std::optional<journal::MarkId> made;
  const Done done = store.edit("set a mark", [&](store::Edit& edit) -> Done {
    const auto added = edit.add(journal::Mark{{}, session, at, note});
    if (!added) return added.error();
    made = *added;
    return {};
  });
  if (!done) return done.error();
  return *made;
}

namespace {

Done check_mark_of(const store::Store& store, journal::SessionId session, journal::MarkId mark) {
  const auto record = store.record(session);
  if (!record) return record.error();
  for (const journal::Mark& there : record->marks) {
    if (there.id == mark) return {};
  }
  return Error{Code::not_found, "There is no mark " + std::to_string(mark.value) +
                                    " in that session. \"jigtime show\" prints the marks with their numbers."};
}

}  // namespace

Done change_mark(store::Store& store, journal::SessionId session, journal::MarkId mark, SessionTime at,
                 const std::string& note) {
  if (Done there = check_mark_of(store, session, mark); !there) return there;
  return store.edit("change a mark", [&](store::Edit& edit) {
    return edit.update(journal::Mark{mark, session, at, note});
  });
}

Done delete_mark(store::Store& store, journal::SessionId session, journal::MarkId mark) {
  if (Done there = check_mark_of(store, session, mark); !there) return there;
  return store.edit("delete a mark", [&](store::Edit& edit) { return edit.remove(mark); });
}

}  // namespace jigtime::actions
