#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {

using namespace journal;

namespace {

constexpr const char* session_of_span = "SELECT session FROM span WHERE id = ?1";
constexpr const char* session_of_mark = "SELECT session FROM mark WHERE id = ?1";

}  // namespace

Done Editor::check_span(const Span& span) {
  if (Done session = need_session(span.session); !session) return session;
  return check(span, read_named(database_, span));
}

void Editor::write_span_rows(SpanId id, const Span& span) {
  Query{database_, "DELETE FROM span_person WHERE span = ?1"}.with(id).run();
  Query{database_, "DELETE FROM span_fastener WHERE span = ?1"}.with(id).run();
  Query person{database_, "INSERT INTO span_person (span, position, person) VALUES (?1, ?2, ?3)"};
  int number = 0;
  for (const PersonId row : span.people) person.with(id, number++, row).run();
  Query line{database_,
             "INSERT INTO span_fastener (span, position, callout, method, set_count, drilled) "
             "VALUES (?1, ?2, ?3, ?4, ?5, ?6)"};
  number = 0;
  for (const FastenerLine& row : span.fasteners) {
    line.with(id, number++, std::string_view{row.callout}, word_for(method_words, row.method), row.set, row.drilled)
        .run();
  }
}

Result<SpanId> Editor::add(const Span& span) {
  return attempt([&]() -> Result<SpanId> {
    if (Done rules = check_span(span); !rules) return rules.error();
    const SpanId id{Query{database_,
                          "INSERT INTO span (session, kind, begin_ns, end_ns, task, note, off_camera) "
                          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING id"}
                        .with(span.session, word_for(span_words, span.kind), span.begin, span.end, span.task,
                              std::string_view{span.note}, span.off_camera ? 1 : 0)
                        .run_for_id()};
    write_span_rows(id, span);
    return id;
  });
}

Done Editor::update(const Span& span) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_span, span.id.value, "span"); !open) return open;
    if (Done rules = check_span(span); !rules) return rules;
    Query{database_,
          "UPDATE span SET session = ?2, kind = ?3, begin_ns = ?4, end_ns = ?5, task = ?6, note = ?7, "
          "off_camera = ?8 WHERE id = ?1"}
        .with(span.id, span.session, word_for(span_words, span.kind), span.begin, span.end, span.task,
              std::string_view{span.note}, span.off_camera ? 1 : 0)
        .run();
    write_span_rows(span.id, span);
    return {};
  });
}

Done Editor::remove(SpanId span) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_span, span.value, "span"); !open) return open;
    Query{database_, "DELETE FROM item_closing WHERE span = ?1"}.with(span).run();
    Query{database_, "DELETE FROM span WHERE id = ?1"}.with(span).run();
    return {};
  });
}

Result<MarkId> Editor::add(const Mark& mark) {
  if (Done rules = check(mark); !rules) return rules.error();
  return attempt([&]() -> Result<MarkId> {
    if (Done session = need_session(mark.session); !session) return session.error();
    return MarkId{Query{database_, "INSERT INTO mark (session, at_ns, note) VALUES (?1, ?2, ?3) RETURNING id"}
                      .with(mark.session, mark.at, std::string_view{mark.note})
                      .run_for_id()};
  });
}

Done Editor::update(const Mark& mark) {
  if (Done rules = check(mark); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_mark, mark.id.value, "mark"); !open) return open;
    if (Done session = need_session(mark.session); !session) return session;
    Query{database_, "UPDATE mark SET session = ?2, at_ns = ?3, note = ?4 WHERE id = ?1"}
        .with(mark.id, mark.session, mark.at, std::string_view{mark.note})
        .run();
    return {};
  });
}

Done Editor::remove(MarkId mark) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_mark, mark.value, "mark"); !open) return open;
    Query{database_, "UPDATE item SET mark = NULL WHERE mark = ?1"}.with(mark).run();
    Query{database_, "UPDATE still SET mark = NULL WHERE mark = ?1"}.with(mark).run();
    Query{database_, "DELETE FROM mark WHERE id = ?1"}.with(mark).run();
    return {};
  });
}

Done Editor::move_moments(SessionId session, Length by) {
  return attempt([&]() -> Done {
    if (Done open = need_session(session); !open) return open;
    if (by == Length{0}) return {};
    for (const char* const sql :
         {"UPDATE span SET begin_ns = begin_ns + ?2, end_ns = end_ns + ?2 WHERE session = ?1",
          "UPDATE mark SET at_ns = at_ns + ?2 WHERE session = ?1",
          "UPDATE item SET at_ns = at_ns + ?2 WHERE session = ?1 AND at_ns IS NOT NULL AND id NOT IN "
          "(SELECT item FROM item_closing JOIN entry ON entry.session = item_closing.session)",
          "UPDATE inspection SET at_ns = at_ns + ?2 WHERE session = ?1 AND at_ns IS NOT NULL",
          "UPDATE photo SET at_ns = at_ns + ?2 WHERE session = ?1 AND at_ns IS NOT NULL",
          "UPDATE still SET at_ns = at_ns + ?2 WHERE session = ?1",
          "UPDATE proposal SET begin_ns = begin_ns + ?2, end_ns = end_ns + ?2 WHERE session = ?1"}) {
      Query{database_, sql}.with(session, by).run();
    }
    return {};
  });
}

Done Editor::set_proposals(SessionId session, const std::vector<Proposal>& proposals) {
  return attempt([&]() -> Done {
    if (Done open = need_session(session); !open) return open;
    Query{database_, "DELETE FROM proposal WHERE session = ?1"}.with(session).run();
    Query row{database_,
              "INSERT INTO proposal (session, kind, begin_ns, end_ns, count, confidence_permille) "
              "VALUES (?1, ?2, ?3, ?4, ?5, ?6)"};
    for (const Proposal& proposal : proposals) {
      if (Done rules = check(proposal); !rules) return rules;
      row.with(session, word_for(proposal_words, proposal.kind), proposal.begin, proposal.end, proposal.count,
               proposal.confidence_permille)
          .run();
    }
    return {};
  });
}

}  // namespace jigtime::store
