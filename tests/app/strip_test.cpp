#include "app/view/strip.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length t) { return SessionTime{t}; }
SessionRange day() { return *SessionRange::make(at(0s), at(8h)); }

}  // namespace

TEST_CASE("the whole day shows with a little room on either side") {
  const StripWindow window = showing(day(), 1000);
  CHECK(window.from < at(0s));
  CHECK(window.to() > at(8h));
  CHECK(window.x_of(at(4h)) == doctest::Approx(500));
}

TEST_CASE("a pixel and back is the same moment") {
  const StripWindow window{at(1h), 10min, 1234};
  for (const double x : {0.0, 1.0, 617.25, 1234.0})
    CHECK(window.x_of(window.time_at(x)) == doctest::Approx(x).epsilon(1e-9));
}

TEST_CASE("zooming keeps the moment under the pointer where it is") {
  StripWindow window = showing(day(), 1000);
  const SessionTime pointer = at(3h + 17min);
  const double x = window.x_of(pointer);
  for (int i = 0; i < 40; ++i) {
    window = zoomed(window, 0.8, pointer, day());
    CHECK(window.x_of(pointer) == doctest::Approx(x).epsilon(1e-6));
  }
}

TEST_CASE("zooming stops at single pictures and at the whole day") {
  StripWindow window = showing(day(), 1000);
  for (int i = 0; i < 200; ++i) window = zoomed(window, 0.5, at(4h), day());
  CHECK(window.length == shortest_window);
  for (int i = 0; i < 200; ++i) window = zoomed(window, 2, at(4h), day());
  CHECK(window == showing(day(), 1000));
}

TEST_CASE("one cannot move beyond the ends of the day") {
  const StripWindow window{at(1h), 1h, 1000};
  CHECK(panned(window, -100h, day()).from < at(0s));
  CHECK(panned(window, -100h, day()).to() > at(0s));
  CHECK(panned(window, 100h, day()).from < at(8h));
  CHECK(panned(window, 100h, day()).length == 1h);
}

TEST_CASE("the window follows a moment only when that leaves it") {
  const StripWindow window{at(1h), 1h, 1000};
  CHECK(with_in_sight(window, at(90min), day()) == window);
  const StripWindow moved = with_in_sight(window, at(3h), day());
  CHECK(moved.from < at(3h));
  CHECK(moved.to() > at(3h));
}

TEST_CASE("a session of one second can be shown and zoomed like any other") {
  const SessionRange brief = *SessionRange::make(at(0s), at(1s));
  const StripWindow window = showing(brief, 800);
  CHECK(window.length > 1s);
  CHECK(zoomed(window, 1e9, at(0s), brief).length == window.length);
  CHECK(zoomed(window, 1e-9, at(0s), brief).length == shortest_window);
}

TEST_CASE("labelled ticks are as far apart as asked, and lie on multiples") {
  for (const Length length : {Length{200ms}, Length{1s}, Length{1min}, Length{1h}, Length{10h}}) {
    const StripWindow window{at(17min + 3s), length, 1000};
    const Length tick = tick_for(window, 90);
    CHECK(1000 * to_seconds(tick) / to_seconds(length) >= 90);
    const SessionTime first = first_tick(window.from, tick);
    CHECK(first >= window.from);
    CHECK(first.time_since_epoch() % tick == 0s);
  }
  CHECK(first_tick(at(-1s), 1min) == at(0s));
}
