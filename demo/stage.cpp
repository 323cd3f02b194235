#include "demo/stage.h"

#include <algorithm>
#include <array>

namespace jigtime::demo {

Colour Stage::seen(Colour colour) const {
  return {std::min(1.0, colour.red * tint.red), std::min(1.0, colour.green * tint.green),
          std::min(1.0, colour.blue * tint.blue), colour.cover};
}

void Stage::face(std::initializer_list<Point> shape, Colour colour) {
  const std::vector<Dot> corners = lens.project(std::span{shape.begin(), shape.size()});
  if (corners.size() >= 3) canvas.fill(corners, seen(colour));
}

void Stage::face(std::initializer_list<Point> shape, Colour first, Colour last) {
  const std::vector<Dot> corners = lens.project(std::span{shape.begin(), shape.size()});
  if (corners.size() < 3) return;
  canvas.fill(corners, Blend{corners[0], seen(first), corners[2], seen(last)});
}

void Stage::box(Point low, Point high, Colour colour) {
  struct Side {
    std::array<Point, 4> corners;
    double light;
  };
  std::array<Side, 4> sides{{
      {{{{low.x, high.y, low.z}, {high.x, high.y, low.z}, high, {low.x, high.y, high.z}}}, 0.72},
      {{{low, {high.x, low.y, low.z}, {high.x, low.y, high.z}, {low.x, low.y, high.z}}}, 0.78},
      {{{low, {low.x, high.y, low.z}, {low.x, high.y, high.z}, {low.x, low.y, high.z}}}, 0.62},
      {{{{high.x, low.y, low.z}, {high.x, high.y, low.z}, high, {high.x, low.y, high.z}}}, 0.66},
  }};
  const auto depth = [&](const Side& side) { return lens.depth(between(side.corners[0], side.corners[2], 0.5)); };
  std::ranges::sort(sides, std::greater{}, depth);
  for (const Side& side : sides) {
    face({side.corners[0], side.corners[1], side.corners[2], side.corners[3]}, colour.darker(side.light));
  }
  face({{low.x, low.y, high.z}, {high.x, low.y, high.z}, high, {low.x, high.y, high.z}}, colour);
}

void Stage::rod(std::initializer_list<Point> line, double thickness, Colour colour) {
  std::vector<Dot> dots;
  for (const Point point : line) dots.push_back(lens.project(point));
  canvas.stroke(dots, std::max(0.8, pixels(*(line.end() - 1), thickness)), seen(colour));
}

void Stage::ball(Point centre, double radius, Colour colour) {
  const double size = pixels(centre, radius);
  canvas.ellipse(lens.project(centre), size, size, seen(colour));
}

}  // namespace jigtime::demo
