// Invented log books for the tests and for looking at them.
#pragma once

#include "report/book.h"

namespace jigtime::test {

/// A few weeks' work: an elevator, a rudder, a helper, paid help, names in several scripts, a session that is not
/// sealed, an amendment, things that wait, inspections, a checklist. `still` is the JPEG file of every mark.
report::Book sample_book(std::vector<std::uint8_t> still);

/// `count` sessions on every other day, ten spans, two marks with stills and five fastener lines each.
report::Book long_book(int count, std::vector<std::uint8_t> still);

/// The book of golden_session().
report::Book golden_book();

/// A build and nothing else.
report::Book empty_book();

}  // namespace jigtime::test
