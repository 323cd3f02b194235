#include "actions/describe.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

std::string dropout(Length lost, Length at, Length loose) {
  return describe({.kind = sync::Note::Kind::dropout, .clip_at = ClipTime{at}, .length = lost, .loose = loose}, {},
                  0ns);
}

}  // namespace

TEST_CASE("a loss is told with its moment, or with the moments between which it lies") {
  CHECK(dropout(1500ms, 90s, 0s) == "1.50 s are missing at 0:01:30.000 into the clip.");
  CHECK(dropout(4s, 272s, 88s) ==
        "4.00 s are missing somewhere between 0:03:04.000 and 0:06:00.000 into the clip: nothing was heard in between "
        "that "
        "tells where, so that stretch may be off by as much.");
  CHECK(dropout(-2s, 90s, 0s) == "2.00 s were recorded twice at 0:01:30.000 into the clip.");
}
