// Hours and fasteners over many sessions.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "journal/hours.h"
#include "store/store.h"

namespace jigtime::actions {

enum class By { everything, task, assembly, person, role, session, month };
std::optional<By> parse_by(std::string_view text);

struct HoursAsked {
  By by = By::everything;
  std::optional<std::chrono::year_month_day> from;  ///< both inclusive
  std::optional<std::chrono::year_month_day> to;
};

/// Fields that `by` folds together are empty.
struct HoursLine {
  std::string session;  ///< date
  std::string month;    ///< YYYY-MM, only by month
  std::string task;
  std::string assembly;  ///< path
  std::string person;
  std::string role;
  Length worked{0};
  Length unfilmed{0};
  Length shown{0};  ///< worked, rounded as the journal says, so that lines add up to the rounded total
};

/// An assembly with everything below it.
struct AssemblyTotal {
  std::string assembly;  ///< path
  Length worked{0};
  Length unfilmed{0};
};

struct HoursTable {
  std::vector<HoursLine> lines;
  std::vector<AssemblyTotal> with_parts;  ///< by assembly alone: every one that time was spent on or below, by path
  Length person_time{0};
  Length elapsed{0};
  Length untagged{0};
  Length unfilmed{0};
  journal::Rounding rounding = journal::Rounding::none;
};

/// People and tasks that were merged count as what they were merged into, in sealed sessions too.
Result<HoursTable> tally_hours(const store::Store& store, const HoursAsked& asked);

/// Code::invalid when the last day lies before the first.
Done check_asked(const HoursAsked& asked);

/// Makes spans name what their people and tasks were merged into, so that nobody's minute counts twice.
void name_what_is_meant(journal::SessionRecord& record, const journal::Register& known);

/// Records of all sessions, by date, within the asked dates.
Result<std::vector<journal::SessionRecord>> records_between(const store::Store& store,
                                                            std::optional<std::chrono::year_month_day> from,
                                                            std::optional<std::chrono::year_month_day> to);

}  // namespace jigtime::actions
