// Invented sessions for the tests of the page and for looking at it.
#pragma once

#include "report/report.h"

namespace jigtime::test {

/// A morning and an afternoon in a village workshop: an elevator skin is dimpled and riveted, a helper comes, a camera
/// overheats, one clip is placed by its clock only, one not at all.
report::Timeline elevator_session();

/// A journal that has just been made: a build, a date, nothing else.
report::Timeline empty_session();

/// Eight hours, three cameras, 300 clips, 60 spans.
report::Timeline long_day();

/// Six cameras, a hundred clips each.
report::Timeline crowded_day();

/// Names in Hebrew, Japanese and emoji; cameras whose clocks drift by 80 parts in a million; a rate of 29.97.
report::Timeline scripts_session();

/// Names and notes that try to break out of the page, and names far too long for it.
report::Timeline hostile_session();

/// A small session in which every format has something to escape, for the golden files.
report::Timeline golden_session();

SessionTime at(int hours, int minutes, int seconds = 0);

}  // namespace jigtime::test
