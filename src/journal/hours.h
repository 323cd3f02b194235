// Hours: each person's minute once, however many cameras ran.
// Must never know: who asks, how it is shown.
// Begin reading at: count_hours.
#pragma once

#include <optional>
#include <vector>

#include "journal/values.h"
#include "journal/working_day.h"

namespace jigtime::journal {

/// One person's time on one task in one session.
struct HoursRow {
  SessionId session;
  std::optional<TaskId> task;
  PersonId person;
  Length worked{0};
  Length unfilmed{0};  ///< of `worked`, what was off camera or no placed piece of any clip covers

  friend bool operator==(const HoursRow&, const HoursRow&) = default;
};

struct Hours {
  std::vector<HoursRow> rows;  ///< ordered by session, task, person; none with worked == 0
  Length person_time{0};       ///< sum of the rows
  Length elapsed{0};           ///< union of everybody's work, per session, summed over sessions
  Length untagged{0};          ///< filmed by at least one camera, in no span, summed over sessions
  Length unfilmed{0};          ///< of `elapsed`, what no placed piece of any clip covers

  friend bool operator==(const Hours&, const Hours&) = default;
};

/// The rules, each a test: a person's moment goes to the work span that began later, on a tie to the shorter, then to
/// the one with the larger id; a pause takes time from the people it names, or from all; camera count never matters;
/// footage in no span is untagged and never counted. A work span that names nobody counts for nobody's hours but is
/// not untagged either. Spans of a pause count as tagged. Off-camera work counts as worked and as unfilmed, whatever
/// the cameras saw meanwhile, and leaves that footage untagged.
/// O(n log n) in spans, people and pieces. Spans that end before they begin are passed over.
Hours count_hours(const WorkingDay& day);
Hours count_hours(const SessionRecord& record);
/// Rows of the same session, task and person become one.
Hours sum(const std::vector<Hours>& parts);

/// Rounds so that the rounded rows add up to the rounded total (largest remainder; ties by order).
/// Precondition: every length >= 0. Rounding::none returns the lengths as they are.
std::vector<Length> rounded_to_add_up(const std::vector<Length>& lengths, Rounding rounding);

}  // namespace jigtime::journal
