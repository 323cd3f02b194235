// Working days of all sessions at once.
#include "base/piece.h"
#include "store/numbers_private.h"

namespace jigtime::store {
namespace {

using namespace journal;

void read_ranges(Database& database, const SessionPlaces& places, std::vector<WorkingDay>& days) {
  PlaceFinder place_of{places};
  Numbers row{database, "SELECT id, session, kind, begin_ns, end_ns, task, off_camera FROM span ORDER BY id"};
  Numbers person{database, "SELECT span, person FROM span_person ORDER BY span, position"};
  bool more = person.next();
  std::int64_t span_of_person = more ? person.at(0) : 0;
  const auto next_person = [&] {
    more = person.next();
    if (more) span_of_person = person.at(0);
  };
  while (row.next()) {
    const std::int64_t id = row.at(0);
    WorkingDay& day = days[place_of(row.at(1))];
    TaggedRange range{{id}, SessionTime{Length{row.at(3)}}, SessionTime{Length{row.at(4)}}};
    if (row.first_letter(2) == 'b') range.kind = SpanKind::pause;
    if (const std::int64_t task = row.at(5); task != 0 || !row.is_null(5)) range.task = TaskId{task};
    range.off_camera = row.at(6) != 0;
    range.first_person = static_cast<std::uint32_t>(day.people.size());
    while (more && span_of_person < id) next_person();
    for (; more && span_of_person == id; next_person()) day.people.push_back({person.at(1)});
    range.person_count = static_cast<std::uint32_t>(day.people.size()) - range.first_person;
    day.ranges.push_back(range);
  }
}

void read_filmed(Database& database, const SessionPlaces& places, std::vector<WorkingDay>& days) {
  PlaceFinder place_of{places};
  Numbers row{database,
              "SELECT clip.session, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns FROM piece "
              "JOIN clip ON clip.id = piece.clip"};
  while (row.next()) {
    const Piece piece{ClipTime{Length{row.at(1)}}, ClipTime{Length{row.at(2)}}, SessionTime{Length{row.at(3)}},
                      row.at(4), Length{row.at(5)}};
    const auto range = SessionRange::make(piece.session_start, piece.session_end());
    if (range) days[place_of(row.at(0))].filmed.push_back(*range);
  }
}

}  // namespace

std::vector<WorkingDay> read_working_days(Database& database) {
  std::vector<WorkingDay> days;
  SessionPlaces places;
  for (const Session& session : read_sessions(database)) {
    places[session.id.value] = days.size();
    days.push_back({session.id, session.date, {}, {}, {}});
  }
  read_ranges(database, places, days);
  read_filmed(database, places, days);
  return days;
}

}  // namespace jigtime::store
