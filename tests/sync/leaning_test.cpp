#include "sync/leaning.h"

#include <doctest/doctest.h>

#include "lag_rows.h"

using namespace jigtime;
using namespace jigtime::sync;

namespace {

/// Thirty windows of four seconds: every third shows a clear lag on the line, the others are as loud and show `faint`
/// there, from the first to the last that does.
struct Heard {
  LagMap map{Line{}, 0.999};
  Segment segment;

  template <class Faint>
  explicit Heard(const Faint& faint) {
    test::LagRows rows{7};
    for (int w = 0; w < 30; ++w) {
      const double at = 4 * w + 2;
      const bool agrees = w % 3 == 0;
      map.add(at, rows.row(0, agrees ? 9.0 : faint(w)), 0);
      Glimpse one;
      one.at = at;
      one.agrees = agrees;
      one.in_a = one.in_b = 30;
      segment.glimpses.push_back(one);
    }
    segment.from = 2;
    segment.to = 118;
    segment.audible = 300;
  }
};

}  // namespace

TEST_CASE("windows that show nothing clear lean to a true line together") {
  const Heard heard{[](int) { return 4.0; }};
  CHECK(loud_leans(heard.map, heard.segment));
}

TEST_CASE("what has nothing to do with a line does not lean to it") {
  const Heard heard{[](int) { return 0.0; }};
  CHECK_FALSE(loud_leans(heard.map, heard.segment));
}

TEST_CASE("what is loud beside the segment must lean by itself") {
  Heard heard{[](int w) { return w < 16 ? 5.5 : 0.0; }};
  CHECK(loud_leans(heard.map, heard.segment));
  heard.segment.to = 62;
  CHECK_FALSE(loud_leans(heard.map, heard.segment));
  // In silence there is nothing that could.
  for (Glimpse& one : heard.segment.glimpses) {
    if (one.at > heard.segment.to + 2 && !one.agrees) one.in_a = one.in_b = 3;
  }
  CHECK(loud_leans(heard.map, heard.segment));
}

TEST_CASE("work much louder than all that agrees must lean by itself") {
  Heard heard{[](int w) { return w % 4 == 1 ? 0.0 : 5.0; }};
  CHECK(loud_leans(heard.map, heard.segment));
  for (std::size_t w = 1; w < heard.segment.glimpses.size(); w += 4) heard.segment.glimpses[w].in_b = 200;
  CHECK_FALSE(loud_leans(heard.map, heard.segment));
}

TEST_CASE("where much is heard, what is loud must agree by itself") {
  Heard heard{[](int) { return 4.0; }};
  CHECK(loud_leans(heard.map, heard.segment));
  heard.segment.audible = 1200;
  CHECK_FALSE(loud_leans(heard.map, heard.segment));
}

TEST_CASE("nothing leans where nothing is left, or nothing agrees") {
  Heard heard{[](int) { return 4.0; }};
  Segment none = heard.segment;
  for (Glimpse& one : none.glimpses) one.agrees = false;
  CHECK_FALSE(loud_leans(heard.map, none));
  for (Glimpse& one : heard.segment.glimpses) one.agrees = true;
  CHECK_FALSE(loud_leans(heard.map, heard.segment));
}
