#include "demo/view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "demo/figures.h"
#include "demo/shop_clock.h"
#include "demo/workshop.h"

namespace jigtime::demo {
namespace {

constexpr Colour builder_overalls{0.17, 0.42, 0.50};
constexpr Colour builder_hair{0.42, 0.20, 0.12};
constexpr Colour helper_overalls{0.76, 0.53, 0.18};
constexpr Colour helper_hair{0.30, 0.27, 0.25};
constexpr Point builder_rest{0.0, 0.50, 1.10};
constexpr Point helper_rest{0.98, -0.05, 1.14};

bool any_holds(const std::vector<Stretch>& stretches, Seconds t) {
  return std::ranges::any_of(stretches, [&](const Stretch& stretch) { return stretch.holds(t); });
}

/// 0 at the place of work, 1 at the door: people walk in at the beginning of their stay and out at its end.
double away_from_work(const std::vector<Stretch>& stays, Seconds t) {
  constexpr Seconds walk = 1.4;
  for (const Stretch& stay : stays) {
    if (stay.holds(t)) return std::clamp(1 - std::min(t - stay.begin, stay.end - t) / walk, 0.0, 1.0);
  }
  return 1;
}

}  // namespace

struct View::Impl {
  const Scenario& scenario;
  const CameraPlan& plan;
  const Story& story;
  Stage stage;
  Canvas room;
  Stage bench;
  std::array<HoleState, hole_count> holes{};
  std::size_t next_change = 0;
  ShopClock clock;
  Picture picture;

  void bring_holes_to(Seconds t);
  void redraw_bench();
  void draw_people(Seconds t, bool lamp);
  void draw_small_motion(Seconds t, bool lamp);
  Figure builder_figure(Seconds t, const Hands& hands) const;
  Figure helper_figure(Seconds t) const;
};

View::View(const Scenario& scenario, const CameraPlan& plan, const Story& story)
    : impl_{new Impl{scenario,
                     plan,
                     story,
                     Stage{plan},
                     Canvas{plan.width, plan.height},
                     Stage{plan},
                     {},
                     0,
                     ShopClock{{plan.clock_at.x * plan.width, plan.clock_at.y * plan.height}, plan.height},
                     Picture::blank(plan.width, plan.height)}} {
  draw_room(impl_->stage);
  impl_->clock.hang(impl_->stage.canvas);
  impl_->room.copy(impl_->stage.canvas);
  impl_->redraw_bench();
}
View::View(View&&) noexcept = default;
View& View::operator=(View&&) noexcept = default;
View::~View() = default;

void View::Impl::redraw_bench() {
  draw_bench(bench);
  draw_skin(bench);
  // Far holes first: a pin in front covers the one behind it.
  std::array<int, hole_count> order;
  for (int hole = 0; hole < hole_count; ++hole) order[static_cast<std::size_t>(hole)] = hole;
  std::ranges::sort(order, std::greater{}, [&](int hole) { return bench.lens.depth(hole_at(hole)); });
  for (const int hole : order) draw_hole(bench, hole, holes[static_cast<std::size_t>(hole)]);
}

void View::Impl::bring_holes_to(Seconds t) {
  bool changed = false;
  for (; next_change < story.changes.size() && story.changes[next_change].at <= t; ++next_change) {
    holes[static_cast<std::size_t>(story.changes[next_change].hole)] = story.changes[next_change].state;
    changed = true;
  }
  if (changed) redraw_bench();
}

Figure View::Impl::builder_figure(Seconds t, const Hands& hands) const {
  const double away = away_from_work(story.builder_in, t);
  const Point work{0.45 * hands.at.x - 0.05, 0.86, 0};
  return {between(work, {-2.6, 1.6, 0}, away), {0, -1, 0}, builder_overalls, builder_hair, 1.70,
          any_holds(story.builder_talks, t)};
}

Figure View::Impl::helper_figure(Seconds t) const {
  const double away = away_from_work(story.helper_in, t);
  return {between({1.30, -0.05, 0}, {2.7, -1.5, 0}, away),
          {-1, 0, 0},
          helper_overalls,
          helper_hair,
          1.80,
          any_holds(story.helper_talks, t)};
}

void View::Impl::draw_people(Seconds t, bool lamp) {
  Hands builder_hands = hands_at(story.builder, t, builder_rest);
  if (builder_hands.tool == Tool::gun) builder_hands.at_work = lamp;  // the gun shakes on its blows only
  const Hands helper_hands = hands_at(story.helper, t, helper_rest);
  const Figure builder = builder_figure(t, builder_hands);
  const Figure helper = helper_figure(t);
  const bool builder_here = any_holds(story.builder_in, t);
  const bool helper_here = any_holds(story.helper_in, t);
  // Whoever stands beyond the bench is covered by it.
  const double bench_depth = stage.lens.depth({0, 0, 1});
  const auto draw = [&](bool beyond) {
    if (builder_here && (stage.lens.depth(builder.feet + Point{0, 0, 1}) > bench_depth) == beyond) {
      draw_body(stage, builder, t);
    }
    if (helper_here && (stage.lens.depth(helper.feet + Point{0, 0, 1}) > bench_depth) == beyond) {
      draw_body(stage, helper, t);
    }
  };
  draw(true);
  stage.canvas.lay(bench.canvas, 0, 0);
  draw(false);
  const auto at_place = [&](const std::vector<Stretch>& stays) { return away_from_work(stays, t) < 0.3; };
  if (helper_here && at_place(story.helper_in)) draw_hands(stage, helper, helper_hands, t);
  if (builder_here && at_place(story.builder_in)) draw_hands(stage, builder, builder_hands, t);
  if (lamp)
    stage.canvas.glow(stage.lens.project(builder_hands.at), stage.pixels(builder_hands.at, 0.10),
                      {1.0, 0.9, 0.5, 0.85});
}

void View::Impl::draw_small_motion(Seconds t, bool lamp) {
  if (stage.lens.depth(fan_hub) > 0.5) {
    for (int blade = 0; blade < 3; ++blade) {
      const double angle = 11.3 * t + 2.0944 * blade;
      stage.rod({fan_hub, fan_hub + Point{0, 0.22 * std::cos(angle), 0.22 * std::sin(angle)}}, 0.07,
                {0.4, 0.45, 0.47, 0.8});
    }
    stage.ball(fan_hub, 0.04, {0.2, 0.22, 0.24});
  }
  if (scenario.compressor.holds(t) && stage.lens.depth(compressor_lamp) > 0.5) {
    stage.ball(compressor_lamp, 0.045, {0.3, 1.0, 0.3});
  }
  if (scenario.phase_at(t).activity == Activity::away) {  // the tea is still hot
    const Point top = mug + Point{0.04, 0.04, 0.11};
    stage.rod({top, top + Point{0.012 * std::sin(2 * t), 0, 0.05}, top + Point{0.02 * std::sin(2 * t + 1), 0, 0.11}},
              0.012, {1, 1, 1, 0.5});
  }
  const WallTime midnight = std::chrono::floor<std::chrono::days>(scenario.zero);  // the shop keeps UTC in winter
  clock.draw(stage.canvas, to_seconds(scenario.zero - midnight) + t, t,
             lamp ? ShopClock::Lamp::lit : ShopClock::Lamp::dark);
}

const Picture& View::at(Seconds t) {
  Impl& impl = *impl_;
  impl.bring_holes_to(t);
  const bool lamp = any_holds(impl.story.lamp, t);
  impl.stage.canvas.copy(impl.room);
  impl.draw_people(t, lamp);
  impl.draw_small_motion(t, lamp);
  impl.stage.canvas.to_picture(impl.picture);
  return impl.picture;
}

}  // namespace jigtime::demo
