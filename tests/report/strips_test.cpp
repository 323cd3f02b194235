#include "report/strips.h"

#include <doctest/doctest.h>

#include "report/sample_sessions.h"

using namespace jigtime;
using namespace jigtime::report;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using test::at;

namespace {

SessionRange between(SessionTime begin, SessionTime end) { return *SessionRange::make(begin, end); }

}  // namespace

TEST_CASE("nothing to show gives no strip") { CHECK(strips_for({}, 3).empty()); }

TEST_CASE("eight hours become strips of two hours on the round hours") {
  const auto strips = strips_for({between(at(0, 3), at(8, 0))}, 3);
  REQUIRE(strips.size() == 4);
  for (std::size_t i = 0; i < strips.size(); ++i) {
    CHECK(strips[i].range == between(at(2 * static_cast<int>(i), 0), at(2 * static_cast<int>(i) + 2, 0)));
    CHECK(strips[i].left_out == Length{0});
  }
}

TEST_CASE("a day that wants more strips gets shorter ones") {
  CHECK(strips_for({between(at(0, 0), at(8, 0))}, 8).size() == 8);
  CHECK(strips_for({between(at(0, 0), at(8, 0))}, 16).size() == 16);
}

TEST_CASE("every instant that is shown lies in exactly one strip") {
  const std::vector<SessionRange> shown{between(at(0, 0) - minutes{7}, at(0, 20)), between(at(0, 5), at(0, 6)),
                                        between(at(3, 0), at(3, 1)), between(at(50, 0), at(50, 40))};
  const auto strips = strips_for(shown, 3);
  for (std::size_t i = 1; i < strips.size(); ++i) CHECK(strips[i - 1].range.end() <= strips[i].range.begin());
  for (const SessionRange& range : shown) {
    for (SessionTime t = range.begin(); t < range.end(); t += seconds{30}) {
      int holding = 0;
      for (const Strip& strip : strips) holding += strip.range.contains(t) ? 1 : 0;
      CHECK(holding == 1);
    }
  }
}

TEST_CASE("a clip that its clock puts years away costs one strip and leaves the day legible") {
  const auto strips = strips_for({between(at(-24 * 3650, 0), at(-24 * 3650, 30)), between(at(0, 0), at(2, 0))}, 3);
  CHECK(strips.size() <= 6);
  CHECK(strips.front().range.length() <= hours{1});
  CHECK(strips.back().range.end() == at(2, 0));
  bool said = false;
  for (const Strip& strip : strips) said = said || strip.left_out > hours{24 * 3600};
  CHECK(said);
}

TEST_CASE("a range of years still gives few strips") {
  const auto strips = strips_for({between(at(-24 * 3650, 0), at(24 * 3650, 0))}, 3);
  CHECK(strips.size() <= 6);
  for (const Strip& strip : strips) CHECK(ticks_of(strip).size() <= 9);
}

TEST_CASE("a moment is shown in a strip of its own") {
  const auto strips = strips_for({between(at(0, 0, 59), at(0, 0, 59) + Length{1})}, 3);
  REQUIRE(strips.size() == 1);
  CHECK(strips[0].range.contains(at(0, 0, 59)));
}

TEST_CASE("ticks lie on multiples of their distance, also before zero") {
  const auto strips = strips_for({between(at(-1, 10), at(0, 30))}, 3);
  for (const Strip& strip : strips) {
    const auto ticks = ticks_of(strip);
    CHECK(ticks.size() >= 4);
    CHECK(ticks.size() <= 12);
    for (const SessionTime tick : ticks) {
      CHECK(tick.time_since_epoch() % strip.tick == Length{0});
      CHECK(strip.range.contains(tick));
    }
  }
}
