#include "journal/working_day.h"

namespace jigtime::journal {

WorkingDay working_day(const SessionRecord& record) {
  WorkingDay day{record.session.id, record.session.date, {}, {}, {}};
  for (const Span& span : record.spans) {
    day.ranges.push_back({span.id, span.begin, span.end, span.task, span.kind, span.off_camera,
                          static_cast<std::uint32_t>(day.people.size()),
                          static_cast<std::uint32_t>(span.people.size())});
    day.people.insert(day.people.end(), span.people.begin(), span.people.end());
  }
  for (const Placement& placement : record.placements) {
    for (const Piece& piece : placement.pieces) {
      if (const auto range = SessionRange::make(piece.session_start, piece.session_end())) day.filmed.push_back(*range);
    }
  }
  return day;
}

}  // namespace jigtime::journal
