// The tables of the page, as values.
// Must never know: HTML.
// Begin reading at: spans_table.
#pragma once

#include "report/day.h"
#include "report/table.h"

namespace jigtime::report {

Table unplaced_table(const Day& day);
Table cameras_table(const Day& day);
Table clips_table(const Day& day);
Table dropouts_table(const Day& day);
Table unreadable_table(const Timeline& timeline);

/// One row a span, those too that cannot be drawn.
Table spans_table(const Timeline& timeline);

/// One row for each task of the session and call-out that was set in it or is planned for it.
Table fasteners_table(const Timeline& timeline);

/// Person-hours: one row a task, assembly, person and role; totals a role and of all. Rows add up to the totals as
/// shown.
Table hours_table(const Timeline& timeline);

}  // namespace jigtime::report
