#include "demo/view.h"

#include <doctest/doctest.h>

#include <cstdlib>

#include "demo/shop_clock.h"

using namespace jigtime;
using namespace jigtime::demo;

namespace {

struct Box {
  int left = 0, top = 0, right = 0, bottom = 0;
};

/// Pixels inside the box that differ by more than a little.
int differing(const Picture& one, const Picture& other, Box box) {
  int count = 0;
  for (int y = box.top; y < box.bottom; ++y) {
    for (int x = box.left; x < box.right; ++x) {
      const auto at = static_cast<std::size_t>(y * one.width + x) * 4;
      int difference = 0;
      for (std::size_t c = 0; c < 3; ++c)
        difference = std::max(difference, std::abs(one.rgba[at + c] - other.rgba[at + c]));
      if (difference > 24) ++count;
    }
  }
  return count;
}

Picture shown(Seconds session, ShopClock::Lamp lamp) {
  Canvas canvas{320, 180};
  Picture picture = Picture::blank(320, 180);
  ShopClock{{160, 90}, 180}.draw(canvas, 34'000, session, lamp);
  canvas.to_picture(picture);
  return picture;
}

}  // namespace

TEST_CASE("the shop clock's digits change with each tenth and not in between") {
  constexpr Box digits{112, 100, 208, 121};
  CHECK(differing(shown(12.30, ShopClock::Lamp::dark), shown(12.39, ShopClock::Lamp::dark), digits) == 0);
  CHECK(differing(shown(12.3, ShopClock::Lamp::dark), shown(12.4, ShopClock::Lamp::dark), digits) > 10);
  CHECK(differing(shown(0, ShopClock::Lamp::dark), shown(-5, ShopClock::Lamp::dark), digits) == 0);
}

TEST_CASE("the lamp can be seen from afar") {
  constexpr Box lamp{166, 65, 200, 99};
  CHECK(differing(shown(5, ShopClock::Lamp::dark), shown(5, ShopClock::Lamp::lit), lamp) > 200);
}

TEST_CASE("every camera sees the lamp go on with the first blow and off after the last") {
  const Scenario scenario = make_scenario(Size::quick);
  const Story story = tell(scenario);
  const Stretch burst = story.lamp[4];
  for (const CameraPlan& plan : scenario.cameras) {
    View view{scenario, plan, story};
    const int x = static_cast<int>(plan.clock_at.x * plan.width) + 22;
    const int y = static_cast<int>(plan.clock_at.y * plan.height) - 9;
    const Box lamp{x - 8, y - 8, x + 8, y + 8};
    const Picture before = view.at(burst.begin - 0.001);
    const Picture during = view.at(burst.begin + 0.001);
    const Picture after = view.at(burst.end + 0.001);
    CHECK(differing(before, during, lamp) > 100);
    CHECK(differing(before, after, lamp) == 0);
  }
}

TEST_CASE("pins and set rivets stay in the picture while nobody works") {
  const Scenario scenario = make_scenario(Size::quick);
  const Story story = tell(scenario);
  Story untouched = story;
  untouched.changes.clear();
  const Seconds tea = 130;  // nobody is in the picture then
  View worked_on{scenario, scenario.cameras[0], story};
  View left_alone{scenario, scenario.cameras[0], untouched};
  CHECK(differing(worked_on.at(tea), left_alone.at(tea), {80, 85, 230, 135}) > 20);
}
