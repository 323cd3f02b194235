// Working days of all sessions at once.
#include <algorithm>
#include <span>

#include "base/piece.h"
#include "store/numbers_private.h"

namespace jigtime::store {
namespace {

using namespace journal;

/// One person in one span.
struct TookPart {
  std::int64_t span;
  PersonId person;
};

/// Who took part in which span. Quick where it is asked in the spans' order.
class Participants {
 public:
  explicit Participants(Database& database) {
    // Every number is at least that: so SQLite reads the table, which is in the order of spans, and no index over
    // people.
    take_rows(database, "span, person", "span_person WHERE span >= -9223372036854775808", [&](const TakenRow& row) {
      all_.push_back({row.at(0), {row.at(1)}});
    });
    const auto by_span = [](const TookPart& a, const TookPart& b) { return a.span < b.span; };
    if (!std::is_sorted(all_.begin(), all_.end(), by_span)) std::stable_sort(all_.begin(), all_.end(), by_span);
  }

  std::span<const TookPart> of(std::int64_t span) {
    if (next_ == all_.size() || all_[next_].span != span) next_ = first_of(span);
    const std::size_t first = next_;
    while (next_ < all_.size() && all_[next_].span == span) ++next_;
    return std::span{all_}.subspan(first, next_ - first);
  }

 private:
  std::size_t first_of(std::int64_t span) const {
    const auto found = std::lower_bound(all_.begin(), all_.end(), span,
                                        [](const TookPart& part, std::int64_t wanted) { return part.span < wanted; });
    return static_cast<std::size_t>(found - all_.begin());
  }

  std::vector<TookPart> all_;
  std::size_t next_ = 0;
};

void read_ranges(Database& database, const SessionPlaces& places, std::vector<WorkingDay>& days) {
  PlaceFinder place_of{places};
  Participants participants{database};
  struct {
    std::size_t ranges;
    std::size_t people;
  } usual{};
  take_rows(database, "id, session, kind, begin_ns, end_ns, task, off_camera", "span", [&](const TakenRow& row) {
    WorkingDay& day = days[place_of(row.at(1))];
    if (day.ranges.empty()) {
      // One day is mostly like another.
      day.ranges.reserve(usual.ranges);
      day.people.reserve(usual.people);
    }
    TaggedRange range{{row.at(0)}, SessionTime{Length{row.at(3)}}, SessionTime{Length{row.at(4)}}};
    if (row.first_letter(2) == 'b') range.kind = SpanKind::pause;
    if (!row.is_null(5)) range.task = TaskId{row.at(5)};
    range.off_camera = row.at(6) != 0;
    range.first_person = static_cast<std::uint32_t>(day.people.size());
    for (const TookPart& part : participants.of(row.at(0))) day.people.push_back(part.person);
    range.person_count = static_cast<std::uint32_t>(day.people.size()) - range.first_person;
    day.ranges.push_back(range);
    usual = {day.ranges.size(), day.people.size()};
  });
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
