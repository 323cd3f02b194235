// What the hours of one session are counted from, and nothing more: a journal of many years has a hundred thousand of
// these ranges.
// Must never know: fasteners, notes, files.
// Begin reading at: WorkingDay.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "journal/values.h"

namespace jigtime::journal {

/// A span without what does not count.
struct TaggedRange {
  SpanId id;
  SessionTime begin;
  SessionTime end;
  std::optional<TaskId> task{};
  SpanKind kind = SpanKind::work;
  bool off_camera = false;
  std::uint32_t first_person = 0;  ///< where its people begin in WorkingDay::people
  std::uint32_t person_count = 0;
};

struct WorkingDay {
  SessionId session;
  std::chrono::year_month_day date;
  std::vector<TaggedRange> ranges;   ///< in any order
  std::vector<PersonId> people;      ///< of all ranges, those of one range together
  std::vector<SessionRange> filmed;  ///< where pieces of clips lie; in any order, may overlap
};

WorkingDay working_day(const SessionRecord& record);

}  // namespace jigtime::journal
