// Working times of all sessions at once.
#include "store/numbers_private.h"

namespace jigtime::store {
namespace {

using namespace journal;

void read_spans(Database& database, const SessionPlaces& places, std::vector<SessionRecord>& records) {
  PlaceFinder place_of{places};
  Numbers row{database, "SELECT id, session, kind = 'break', begin_ns, end_ns, task, off_camera FROM span ORDER BY id"};
  Numbers person{database, "SELECT span, person FROM span_person ORDER BY span, position"};
  bool more = person.next();
  while (row.next()) {
    Span& span = records[place_of(row.at(1))].spans.emplace_back();
    span.id = {row.at(0)};
    span.session = {row.at(1)};
    span.kind = row.at(2) != 0 ? SpanKind::pause : SpanKind::work;
    span.begin = SessionTime{Length{row.at(3)}};
    span.end = SessionTime{Length{row.at(4)}};
    if (!row.is_null(5)) span.task = TaskId{row.at(5)};
    span.off_camera = row.at(6) != 0;
    while (more && person.at(0) < span.id.value) more = person.next();
    for (; more && person.at(0) == span.id.value; more = person.next()) span.people.push_back({person.at(1)});
  }
}

void read_pieces(Database& database, const SessionPlaces& places, std::vector<SessionRecord>& records) {
  PlaceFinder place_of{places};
  Numbers row{database,
              "SELECT clip.session, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns FROM piece "
              "JOIN clip ON clip.id = piece.clip"};
  while (row.next()) {
    std::vector<Placement>& placements = records[place_of(row.at(0))].placements;
    if (placements.empty()) placements.emplace_back();
    placements.front().pieces.push_back({ClipTime{Length{row.at(1)}}, ClipTime{Length{row.at(2)}},
                                         SessionTime{Length{row.at(3)}}, row.at(4), Length{row.at(5)}});
  }
}

}  // namespace

std::vector<SessionRecord> read_working_times(Database& database) {
  std::vector<SessionRecord> records;
  SessionPlaces places;
  for (Session& session : read_sessions(database)) {
    places[session.id.value] = records.size();
    records.emplace_back().session = std::move(session);
  }
  read_spans(database, places, records);
  read_pieces(database, places, records);
  return records;
}

}  // namespace jigtime::store
