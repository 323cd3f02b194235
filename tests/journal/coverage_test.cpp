#include "journal/coverage.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::journal;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length length) { return SessionTime{length}; }
SessionRange range(Length begin, Length end) { return *SessionRange::make(at(begin), at(end)); }

}  // namespace

TEST_CASE("ranges that overlap or touch become one") {
  //  |---|     |--|
  //    |---|--|
  const Coverage coverage{{range(5s, 8s), range(0s, 2s), range(1s, 3s), range(3s, 4s)}};
  CHECK(coverage.ranges() == std::vector<SessionRange>{range(0s, 4s), range(5s, 8s)});
  CHECK(coverage.total() == 7s);
}

TEST_CASE("a range inside another adds nothing") { CHECK(Coverage{{range(0s, 10s), range(2s, 3s)}}.total() == 10s); }

TEST_CASE("what lies within an interval is cut at both its ends") {
  //  |----|  |----|
  //     [-------)
  const Coverage coverage{{range(0s, 5s), range(8s, 13s)}};
  CHECK(coverage.within(at(3s), at(11s)) == 5s);
  CHECK(coverage.within(at(5s), at(8s)) == 0s);
  CHECK(coverage.within(at(-9s), at(99s)) == 10s);
  CHECK(coverage.within(at(4s), at(4s)) == 0s);
}

TEST_CASE("nothing covers nothing") {
  CHECK(Coverage{}.total() == 0s);
  CHECK(Coverage{}.within(at(0s), at(9s)) == 0s);
  CHECK(Coverage{}.shared_with(Coverage{{range(0s, 9s)}}) == 0s);
}

TEST_CASE("two sets share what both cover, whichever is asked") {
  const Coverage a{{range(0s, 5s), range(8s, 13s)}};
  const Coverage b{{range(4s, 9s), range(12s, 20s)}};
  CHECK(a.shared_with(b) == 3s);
  CHECK(b.shared_with(a) == 3s);
  CHECK(a.joined_with(b).total() == 20s);
}

TEST_CASE("a cursor that goes forward says what asking anew says") {
  const Coverage coverage{{range(0s, 5s), range(8s, 13s), range(20s, 21s)}};
  for (int step = 1; step <= 7; ++step) {
    CoverageCursor cursor{coverage};
    for (Length from{-3s}; from < 30s; from += std::chrono::seconds{step}) {
      const SessionTime begin = at(from);
      const SessionTime end = at(from + std::chrono::seconds{step});
      CAPTURE(from.count());
      CHECK(cursor.within(begin, end) == coverage.within(begin, end));
    }
  }
  CHECK(CoverageCursor{Coverage{}}.within(at(0s), at(9s)) == 0s);
}

TEST_CASE("the gaps of an interval are what the set leaves of it") {
  //  |---|  |----|     |-|
  //    [-----------------)
  const Coverage coverage{{range(0s, 4s), range(7s, 12s), range(18s, 20s)}};
  std::vector<SessionRange> gaps;
  const auto note = [&](SessionTime begin, SessionTime end) { gaps.push_back(*SessionRange::make(begin, end)); };
  coverage.each_gap(at(2s), at(19s), note);
  CHECK(gaps == std::vector<SessionRange>{range(4s, 7s), range(12s, 18s)});
  gaps.clear();
  coverage.each_gap(at(8s), at(9s), note);
  CHECK(gaps.empty());
  coverage.each_gap(at(13s), at(15s), note);
  CHECK(gaps == std::vector<SessionRange>{range(13s, 15s)});
  Coverage{}.each_gap(at(1s), at(1s), note);
  CHECK(gaps.size() == 1);
}
