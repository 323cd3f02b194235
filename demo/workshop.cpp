#include "demo/workshop.h"

#include <algorithm>

namespace jigtime::demo {
namespace {

constexpr double west = -3, east = 3, south = -2.9, north = 2.6, ceiling = 2.7;

constexpr Colour lime_wash{0.86, 0.83, 0.74};
constexpr Colour sage{0.45, 0.53, 0.44};
constexpr Colour timber{0.66, 0.47, 0.29};
constexpr Colour dark_timber{0.36, 0.25, 0.17};
constexpr Colour steel{0.55, 0.58, 0.61};
constexpr Colour paper{0.95, 0.94, 0.89};
constexpr Colour ink{0.16, 0.27, 0.42};
constexpr Colour rust{0.68, 0.25, 0.18};
constexpr Colour alloy{0.80, 0.84, 0.87};

void draw_shell(Stage& stage) {
  stage.face({{west, north, 0}, {east, north, 0}, {east, south, 0}, {west, south, 0}}, {0.42, 0.33, 0.26},
             {0.30, 0.23, 0.18});
  for (double y = south; y < north; y += 0.28) {
    stage.face({{west, y, 0}, {east, y, 0}, {east, y + 0.012, 0}, {west, y + 0.012, 0}}, dark_timber.faded(0.5));
  }
  const auto wall = [&](Point a, Point b, double light) {
    const Point up{0, 0, ceiling};
    const Point rail{0, 0, 1.0};
    stage.face({a, b, b + up, a + up}, lime_wash.darker(0.80 * light), lime_wash.darker(light));
    stage.face({a, b, b + rail, a + rail}, sage.darker(0.7 * light), sage.darker(light));
    for (double share = 0; share < 1; share += 0.045) {
      const Point at = between(a, b, share);
      const Point next = between(a, b, share + 0.003);
      stage.face({at, next, next + rail, at + rail}, Colour{0.1, 0.15, 0.1, 0.25});
    }
    const Point top = rail + Point{0, 0, 0.05};
    stage.face({a + rail, b + rail, b + top, a + top}, timber.darker(0.8 * light));
  };
  wall({west, north, 0}, {east, north, 0}, 0.95);
  wall({east, north, 0}, {east, south, 0}, 0.84);
  wall({west, south, 0}, {west, north, 0}, 1.0);
  wall({east, south, 0}, {west, south, 0}, 0.9);
}

/// A rectangle on the north or south wall, or on the east or west one.
void plate_y(Stage& stage, double y, Point low, Point high, Colour first, Colour last) {
  stage.face({{low.x, y, high.z}, {high.x, y, high.z}, {high.x, y, low.z}, {low.x, y, low.z}}, first, last);
}
void plate_x(Stage& stage, double x, Point low, Point high, Colour first, Colour last) {
  stage.face({{x, low.y, high.z}, {x, high.y, high.z}, {x, high.y, low.z}, {x, low.y, low.z}}, first, last);
}

void draw_window(Stage& stage) {
  const double y = north - 0.01;
  plate_y(stage, y, {1.0, 0, 1.12}, {2.3, 0, 2.15}, dark_timber, dark_timber);
  plate_y(stage, y, {1.06, 0, 1.18}, {2.24, 0, 2.09}, {0.70, 0.84, 0.94}, {0.93, 0.95, 0.93});
  stage.face({{1.06, y, 1.18}, {1.06, y, 1.48}, {1.35, y, 1.60}, {1.75, y, 1.50}, {2.24, y, 1.64}, {2.24, y, 1.18}},
             {0.47, 0.60, 0.42});
  stage.face({{1.06, y, 1.18}, {1.06, y, 1.34}, {1.6, y, 1.42}, {2.24, y, 1.32}, {2.24, y, 1.18}}, {0.35, 0.48, 0.31});
  plate_y(stage, y, {1.63, 0, 1.18}, {1.67, 0, 2.09}, dark_timber, dark_timber);
  plate_y(stage, y, {1.06, 0, 1.66}, {2.24, 0, 1.70}, dark_timber, dark_timber);
}

void draw_tool_board(Stage& stage) {
  const double y = north - 0.02;
  plate_y(stage, y, {-2.5, 0, 1.15}, {-0.95, 0, 2.1}, {0.74, 0.60, 0.43}, {0.62, 0.49, 0.35});
  constexpr std::array<Colour, 4> grips{
      Colour{0.75, 0.25, 0.2}, {0.2, 0.4, 0.5}, {0.85, 0.65, 0.2}, {0.25, 0.25, 0.25}};
  for (int i = 0; i < 8; ++i) {  // files, chisels and screwdrivers in a row
    const double x = -2.38 + 0.1 * i;
    const double length = 0.24 + 0.03 * ((i * 5) % 4);
    plate_y(stage, y, {x, 0, 1.95 - length}, {x + 0.018, 0, 1.95}, steel, steel.darker(0.8));
    const Colour grip = grips[static_cast<std::size_t>(i) % grips.size()];
    plate_y(stage, y, {x - 0.01, 0, 1.85}, {x + 0.03, 0, 2.0}, grip, grip.darker(0.8));
  }
  for (int i = 0; i < 3; ++i) {  // hammers
    const double x = -1.4 + 0.16 * i;
    plate_y(stage, y, {x, 0, 1.5}, {x + 0.02, 0, 1.9}, timber.darker(1.2), timber);
    plate_y(stage, y, {x - 0.05, 0, 1.88}, {x + 0.07, 0, 1.95}, steel.darker(0.7), steel.darker(0.5));
  }
  for (int i = 0; i < 5; ++i) {  // snips
    const double x = -2.3 + 0.16 * i;
    stage.face({{x, y, 1.25}, {x + 0.05, y, 1.55}, {x + 0.08, y, 1.55}, {x + 0.02, y, 1.25}}, rust);
    stage.face({{x + 0.12, y, 1.25}, {x + 0.05, y, 1.55}, {x + 0.03, y, 1.55}, {x + 0.09, y, 1.25}}, rust.darker(0.8));
  }
}

void draw_shelf(Stage& stage, double y, double from, double to, double z) {
  const double front = y > 0 ? y - 0.25 : y + 0.25;
  stage.box({from, std::min(y, front), z}, {to, std::max(y, front), z + 0.04}, timber);
  constexpr std::array<Colour, 5> tins{
      Colour{0.55, 0.22, 0.16}, {0.78, 0.66, 0.36}, {0.26, 0.40, 0.46}, {0.80, 0.78, 0.70}, {0.32, 0.42, 0.28}};
  int i = 0;
  for (double x = from + 0.04; x < to - 0.15; x += 0.17 + 0.03 * (i % 3), ++i) {
    const double height = 0.14 + 0.035 * ((i * 7) % 4);
    const double middle = (y + front) / 2;
    stage.box({x, middle - 0.06, z + 0.04}, {x + 0.12, middle + 0.06, z + 0.04 + height},
              tins[static_cast<std::size_t>(i) % tins.size()]);
  }
}

void draw_plans_on_wall(Stage& stage) {
  const double x = east - 0.01;
  plate_x(stage, x, {0, -0.55, 1.2}, {0, 0.65, 2.05}, paper, paper.darker(0.93));
  for (const double z : {1.34, 1.62, 1.9}) {  // three views of an elevator
    stage.face({{x, -0.45, z - 0.08}, {x, 0.5, z - 0.05}, {x, 0.5, z + 0.05}, {x, -0.45, z + 0.1}}, ink.faded(0.35));
    for (double y = -0.45; y < 0.5; y += 0.15) {
      stage.face({{x, y, z - 0.08}, {x, y + 0.012, z - 0.08}, {x, y + 0.012, z + 0.09}, {x, y, z + 0.09}}, ink);
    }
  }
}

void draw_door(Stage& stage, double x, double from, double to) {
  plate_x(stage, x, {0, from - 0.06, 0}, {0, to + 0.06, 2.1}, dark_timber, dark_timber);
  plate_x(stage, x, {0, from, 0}, {0, to, 2.04}, {0.30, 0.42, 0.44}, {0.24, 0.34, 0.36});
  for (double y = from + 0.15; y < to; y += 0.17)
    plate_x(stage, x, {0, y, 0}, {0, y + 0.01, 2.04}, ink.darker(0.6), ink);
}

/// The right elevator, finished as far as its skeleton, hangs on the wall.
void draw_skeleton(Stage& stage) {
  const double y = south + 0.02;
  plate_y(stage, y, {-2.3, 0, 1.72}, {0.4, 0, 1.78}, alloy, alloy.darker(0.85));
  for (int i = 0; i < 9; ++i) {
    const double x = -2.25 + 0.31 * i;
    const double end = 1.2 + 0.02 * i;
    stage.face({{x, y, 1.75}, {x + 0.06, y, 1.75}, {x + 0.035, y, end}, {x + 0.02, y, end}}, alloy.darker(0.9));
  }
  stage.face({{-2.3, y, 1.21}, {0.35, y, 1.37}, {0.35, y, 1.40}, {-2.3, y, 1.24}}, alloy.darker(0.8));
}

void draw_compressor(Stage& stage) {
  stage.box({2.15, 1.9, 0.12}, {2.85, 2.4, 0.52}, rust);
  stage.box({2.3, 1.98, 0.52}, {2.6, 2.3, 0.82}, steel.darker(0.6));
  stage.box({2.64, 2.0, 0.52}, {2.8, 2.25, 0.72}, {0.2, 0.2, 0.2});
  stage.ball({2.2, 1.9, 0.1}, 0.1, {0.12, 0.12, 0.12});
  stage.ball({2.8, 1.9, 0.1}, 0.1, {0.12, 0.12, 0.12});
}

}  // namespace

void draw_room(Stage& stage) {
  draw_shell(stage);
  draw_window(stage);
  draw_tool_board(stage);
  draw_shelf(stage, north, -0.75, 0.75, 1.9);
  draw_plans_on_wall(stage);
  draw_door(stage, east - 0.01, -2.1, -1.2);
  draw_door(stage, west + 0.01, 1.55, 2.4);
  draw_skeleton(stage);
  draw_shelf(stage, south, -2.6, 0.8, 1.95);
  draw_shelf(stage, south, 0.9, 2.6, 1.3);
  draw_compressor(stage);
}

void draw_bench(Stage& stage) {
  for (const double x : {-1.1, 1.0}) {
    for (const double y : {0.38, -0.46}) stage.box({x, y, 0}, {x + 0.1, y + 0.08, 0.84}, dark_timber);
  }
  stage.box({-1.1, -0.42, 0.2}, {1.1, 0.42, 0.24}, timber.darker(0.7));
  stage.box({-0.8, -0.3, 0.24}, {-0.2, 0.2, 0.5}, {0.35, 0.42, 0.38});
  stage.box({0.1, -0.35, 0.24}, {0.75, 0.25, 0.42}, {0.5, 0.42, 0.3});
  stage.box({-1.2, -0.52, 0.82}, {1.2, 0.52, 0.9}, {0.76, 0.57, 0.37});
  for (const double y : {-0.26, 0.0, 0.26}) {
    stage.face({{-1.2, y, 0.9}, {1.2, y, 0.9}, {1.2, y + 0.008, 0.9}, {-1.2, y + 0.008, 0.9}}, dark_timber.faded(0.35));
  }
  stage.box({0.9, -0.12, 0.9}, {1.1, 0.04, 1.0}, {0.22, 0.34, 0.42});  // the vice
  stage.box({0.92, -0.06, 1.0}, {1.08, -0.03, 1.06}, steel);
  stage.box({-0.92, 0.24, 0.9}, {-0.78, 0.38, 0.96}, {0.72, 0.70, 0.62});  // the tin of rivets
  stage.face({{-0.91, 0.25, 0.961}, {-0.79, 0.25, 0.961}, {-0.79, 0.37, 0.961}, {-0.91, 0.37, 0.961}},
             steel.darker(0.7));
  stage.box(mug, mug + Point{0.08, 0.08, 0.1}, {0.75, 0.35, 0.22});
}

void draw_skin(Stage& stage) {
  for (const double x : {-0.42, 0.38}) stage.box({x, -0.34, 0.9}, {x + 0.05, 0.34, 1.0}, timber);
  stage.box({-0.6, -0.35, 0.985}, {0.6, -0.32, skin_height}, alloy.darker(0.75));  // spar
  for (int rib = 0; rib < ribs; ++rib) {
    const Point at = hole_at(rib * holes_on_rib);
    stage.box({at.x - 0.012, -0.33, 0.99}, {at.x + 0.012, 0.345, skin_height - 0.004}, alloy.darker(0.7));
  }
  const double z = skin_height;
  stage.face({{-0.64, -0.37, z - 0.008}, {0.64, -0.37, z - 0.008}, {0.64, 0.335, z - 0.008}, {-0.64, 0.365, z - 0.008}},
             {0.25, 0.28, 0.3});
  stage.face({{-0.64, -0.37, z}, {0.64, -0.37, z}, {0.64, 0.335, z}, {-0.64, 0.365, z}}, alloy.darker(0.84),
             {0.95, 0.97, 0.98});
  stage.face({{-0.30, -0.37, z}, {-0.12, -0.37, z}, {0.16, 0.345, z}, {-0.02, 0.35, z}}, Colour{1, 1, 1, 0.28});
  for (int rib = 0; rib < ribs; ++rib) {
    const double x = hole_at(rib * holes_on_rib).x;
    stage.face({{x - 0.003, -0.36, z}, {x + 0.003, -0.36, z}, {x + 0.003, 0.34, z}, {x - 0.003, 0.34, z}},
               Colour{0.2, 0.3, 0.55, 0.45});
  }
}

void draw_hole(Stage& stage, int hole, HoleState state) {
  const Point at = hole_at(hole);
  constexpr double size = 0.013;
  stage.ball(at, size * 1.25, alloy.darker(0.98));
  switch (state) {
    case HoleState::open: return stage.ball(at, size * 0.6, {0.18, 0.20, 0.24});
    case HoleState::pinned:
      stage.rod({at, at + Point{0, 0, 0.045}}, 0.016, {0.72, 0.42, 0.16});
      return stage.ball(at + Point{0, 0, 0.05}, 0.009, {0.90, 0.62, 0.30});
    case HoleState::rivet:
      stage.ball(at, size, {0.42, 0.46, 0.52});
      stage.ball(at + Point{-0.002, 0.002, 0.002}, size * 0.68, {1.0, 1.0, 0.98});
      return;
  }
}

}  // namespace jigtime::demo
