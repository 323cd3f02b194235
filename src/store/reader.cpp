#include <unordered_map>

#include "base/text.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {
namespace {

using namespace journal;

std::chrono::year_month_day date(const Query& query, int column) {
  if (const auto date = parse_date(query.text(column))) return *date;
  throw Damaged{"a session's date is no date"};
}

constexpr const char* session_columns = "SELECT id, date, zero_ns, reference, note, place, zero_fixed FROM session ";

Session session_of(const Query& row) {
  Session session{row.id<SessionId>(0),         date(row, 1), std::nullopt,
                  row.optional_id<CameraId>(3), row.text(4),  row.text(5)};
  if (!row.is_null(2)) session.zero = row.point<WallTime>(2);
  session.zero_fixed = row.integer(6) != 0;
  return session;
}

std::vector<Unreadable> read_unreadable(Database& database, SessionId id) {
  std::vector<Unreadable> files;
  Query row{database, "SELECT session, camera, path, why FROM unreadable WHERE session = ?1 ORDER BY camera, path"};
  row.with(id);
  while (row.next()) files.push_back({row.id<SessionId>(0), row.id<CameraId>(1), row.bytes(2), row.text(3)});
  return files;
}

std::vector<CameraClock> read_clocks(Database& database, SessionId id) {
  std::vector<CameraClock> clocks;
  Query row{database,
            "SELECT session, camera, offset_ns, rate_ppb, known FROM camera_clock WHERE session = ?1 ORDER BY camera"};
  row.with(id);
  while (row.next()) {
    clocks.push_back({row.id<SessionId>(0), row.id<CameraId>(1), row.length(2), row.integer(3), row.integer(4) != 0});
  }
  return clocks;
}

/// Who took part and what was set, in the spans of one session.
void read_span_rows(Database& database, SessionId id, std::vector<Span>& spans) {
  std::unordered_map<std::int64_t, Span*> at;
  for (Span& span : spans) at[span.id.value] = &span;
  Query person{database,
               "SELECT span, person FROM span_person WHERE span IN (SELECT id FROM span WHERE session = ?1) "
               "ORDER BY span, position"};
  person.with(id);
  while (person.next()) at.at(person.integer(0))->people.push_back(person.id<PersonId>(1));
  Query line{database,
             "SELECT span, callout, method, set_count, drilled FROM span_fastener "
             "WHERE span IN (SELECT id FROM span WHERE session = ?1) ORDER BY span, position"};
  line.with(id);
  while (line.next()) {
    std::vector<FastenerLine>& lines = at.at(line.integer(0))->fasteners;
    lines.push_back({line.text(1), value_in(line, 2, method_words), line.number(3), line.number(4)});
  }
}

std::vector<Span> read_spans(Database& database, SessionId id) {
  std::vector<Span> spans;
  Query row{database,
            "SELECT id, session, kind, begin_ns, end_ns, task, note, off_camera FROM span WHERE session = ?1 "
            "ORDER BY begin_ns, end_ns, id"};
  row.with(id);
  while (row.next()) {
    spans.push_back({row.id<SpanId>(0),
                     row.id<SessionId>(1),
                     value_in(row, 2, span_words),
                     row.point<SessionTime>(3),
                     row.point<SessionTime>(4),
                     row.optional_id<TaskId>(5),
                     {},
                     {},
                     row.text(6),
                     row.integer(7) != 0});
  }
  read_span_rows(database, id, spans);
  return spans;
}

std::vector<Mark> read_marks(Database& database, SessionId id) {
  std::vector<Mark> marks;
  Query row{database, "SELECT id, session, at_ns, note FROM mark WHERE session = ?1 ORDER BY at_ns, id"};
  row.with(id);
  while (row.next()) {
    marks.push_back({row.id<MarkId>(0), row.id<SessionId>(1), row.point<SessionTime>(2), row.text(3)});
  }
  return marks;
}

std::vector<Proposal> read_proposals(Database& database, SessionId id) {
  std::vector<Proposal> proposals;
  Query row{database,
            "SELECT id, session, kind, begin_ns, end_ns, count, confidence_permille FROM proposal "
            "WHERE session = ?1 ORDER BY begin_ns, id"};
  row.with(id);
  while (row.next()) {
    proposals.push_back({row.id<ProposalId>(0), row.id<SessionId>(1), value_in(row, 2, proposal_words),
                         row.point<SessionTime>(3), row.point<SessionTime>(4), row.number(5), row.number(6)});
  }
  return proposals;
}

}  // namespace

Build read_build(Database& database) {
  Query row{database, "SELECT name, registration, place, zone, rounding, regime, regime_text FROM build"};
  if (!row.next()) throw Damaged{"the build's name is gone"};
  return {row.text(0), row.text(1), row.text(2), row.text(3), value_in(row, 4, rounding_words),
          row.text(5), row.text(6)};
}

std::vector<Session> read_sessions(Database& database) {
  std::vector<Session> sessions;
  Query row{database, (std::string{session_columns} + "ORDER BY date")};
  while (row.next()) sessions.push_back(session_of(row));
  return sessions;
}

std::optional<Session> read_session(Database& database, SessionId id) {
  Query row{database, (std::string{session_columns} + "WHERE id = ?1")};
  if (!row.with(id).next()) return std::nullopt;
  return session_of(row);
}

std::optional<SessionRecord> read_record(Database& database, SessionId id) {
  const std::optional<Session> session = read_session(database, id);
  if (!session) return std::nullopt;
  SessionRecord record;
  record.session = *session;
  record.clips = read_clips(database, "session = ?1", id.value);
  record.unreadable = read_unreadable(database, id);
  record.placements = read_placements(database, "session = ?1", id.value);
  record.clocks = read_clocks(database, id);
  record.spans = read_spans(database, id);
  record.marks = read_marks(database, id);
  record.proposals = read_proposals(database, id);
  record.entry = read_entry(database, id);
  record.ties = read_ties(database, id);
  read_beside(database, record);
  return record;
}

}  // namespace jigtime::store
