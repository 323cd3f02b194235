#include "demo/figures.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace jigtime::demo {
namespace {

constexpr Colour skin_tone{0.90, 0.71, 0.58};
constexpr Colour steel{0.62, 0.65, 0.68};
constexpr Colour black{0.13, 0.13, 0.15};

double eased(double share) {
  const double x = std::clamp(share, 0.0, 1.0);
  return x * x * (3 - 2 * x);
}

/// A level move with the hands lifted on the way.
Point on_the_way(Point from, Point to, double share) {
  const double x = eased(share);
  return between(from, to, x) + Point{0, 0, 0.10 * std::sin(3.14159 * x)};
}

/// Turns from the direction a figure faces to its right.
Point right_of(const Figure& figure) { return {figure.faces.y, -figure.faces.x, 0}; }

void draw_arm(Stage& stage, const Figure& figure, Point shoulder, Point hand, double outward) {
  const Point elbow = between(shoulder, hand, 0.5) + right_of(figure) * (0.11 * outward) - Point{0, 0, 0.12};
  stage.rod({shoulder, elbow}, 0.10, figure.overalls.darker(0.86));
  stage.rod({elbow, between(elbow, hand, 0.55)}, 0.085, figure.overalls);
  stage.rod({between(elbow, hand, 0.5), hand}, 0.06, skin_tone);
  stage.ball(hand, 0.042, skin_tone);
}

/// A pistol-shaped air tool, its point at `tip`; returns where it is held.
Point draw_pistol(Stage& stage, Point tip, Point towards, Colour body, double nose) {
  const Point held = tip + Point{0, 0, 0.20} + towards * 0.10;
  stage.rod({held, held + towards * 0.25 - Point{0, 0, 0.25}, held + towards * 0.5 - Point{0, 0, 0.6}}, 0.014, black);
  stage.rod({tip, tip + Point{0, 0, 0.10}}, nose, steel);
  stage.rod({tip + Point{0, 0, 0.10}, tip + Point{0, 0, 0.25}}, 0.055, body);
  stage.rod({tip + Point{0, 0, 0.22}, held}, 0.045, body.darker(0.7));
  return held;
}

Point draw_sheet(Stage& stage, Point at, Point towards) {
  const Point side = Point{towards.y, -towards.x, 0} * 0.22;
  const Point up = Point{0, 0, 0.26} + towards * 0.08;
  stage.face({at - side, at + side, at + side + up, at - side + up}, {0.95, 0.94, 0.88});
  for (const double share : {0.3, 0.5, 0.7}) {
    stage.rod({at - side * 0.7 + up * share, at + side * 0.7 + up * share}, 0.008, {0.3, 0.4, 0.55});
  }
  return at + side;
}

Point draw_tool(Stage& stage, Tool tool, Point at, Point towards, double wobble) {
  switch (tool) {
    case Tool::gun: return draw_pistol(stage, at + Point{0, 0, 0.006 * wobble}, towards, {0.30, 0.34, 0.52}, 0.030);
    case Tool::drill: return draw_pistol(stage, at + Point{0, 0, 0.004 * wobble}, towards, {0.16, 0.50, 0.48}, 0.012);
    case Tool::pliers:
      stage.rod({at + Point{0, 0, 0.04}, at + Point{-0.03, 0, 0.14}, at + towards * 0.14 + Point{0, 0, 0.16}}, 0.02,
                {0.75, 0.2, 0.18});
      return at + towards * 0.10 + Point{0, 0, 0.15};
    case Tool::mirror:
      stage.rod({at + Point{0, 0, 0.03}, at + towards * 0.16 + Point{0, 0, 0.14}}, 0.012, steel);
      stage.ball(at + Point{0, 0, 0.03}, 0.03, {0.75, 0.9, 1.0});
      return at + towards * 0.16 + Point{0, 0, 0.14};
    case Tool::brush:
      stage.rod({at + Point{-0.05, 0, 0.02}, at + Point{0.05, 0, 0.02}}, 0.035, {0.85, 0.75, 0.5});
      stage.rod({at + Point{0, 0, 0.04}, at + towards * 0.14 + Point{0, 0, 0.09}}, 0.022, {0.5, 0.3, 0.2});
      return at + towards * 0.12 + Point{0, 0, 0.08};
    case Tool::file:
      stage.rod({at + Point{0.02 * wobble, -0.16, 0.01}, at + Point{0.02 * wobble, 0.12, 0.03}}, 0.02, steel);
      return at + Point{0.02 * wobble, -0.14, 0.03};
    case Tool::plans: return draw_sheet(stage, at, towards);
    case Tool::bar:
    case Tool::none: return at;
  }
  return at;
}

Point above_feet(const Figure& figure, double height) {
  return figure.feet + Point{0, 0, height * figure.height / 1.72};
}

void draw_legs_and_torso(Stage& stage, const Figure& figure, double facing) {
  const auto up = [&](double z) { return above_feet(figure, z); };
  const Point side = right_of(figure);
  for (const double foot : {-0.09, 0.09}) {
    stage.rod({up(0.85) + side * foot, up(0.05) + side * foot}, 0.15, figure.overalls.darker(0.72));
  }
  const Dot hip = stage.lens.project(up(0.85));
  const Dot chest = stage.lens.project(up(1.38));
  const double broad = stage.pixels(up(1.2), 0.15 + 0.06 * std::abs(facing));
  const std::array<Dot, 4> torso{{{hip.x - broad * 0.85, hip.y},
                                  {hip.x + broad * 0.85, hip.y},
                                  {chest.x + broad, chest.y},
                                  {chest.x - broad, chest.y}}};
  stage.canvas.fill(torso, Blend{{chest.x - broad, 0},
                                 stage.seen(figure.overalls.darker(1.08)),
                                 {chest.x + broad, 0},
                                 stage.seen(figure.overalls.darker(0.8))});
  stage.rod({up(1.38) - side * 0.13, up(1.38) + side * 0.13}, 0.13, figure.overalls);
  stage.rod({up(1.40), up(1.50)}, 0.09, skin_tone.darker(0.85));
}

/// `r` is pixels a metre.
void draw_face(Stage& stage, const Figure& figure, Dot head, double r, Seconds t) {
  const double turned = dot(figure.faces, stage.lens.right()) * 0.05 * r;
  const Dot face{head.x + turned, head.y + 0.025 * r};
  stage.canvas.ellipse(face, 0.088 * r, 0.105 * r, stage.seen(skin_tone));
  const std::array<Dot, 2> glasses{{{face.x - 0.06 * r, face.y - 0.02 * r}, {face.x + 0.06 * r, face.y - 0.02 * r}}};
  stage.canvas.stroke(glasses, 0.038 * r, stage.seen({0.55, 0.75, 0.85}));
  const double open = figure.talks ? 0.008 + 0.012 * std::abs(std::sin(t * 14)) : 0.005;
  stage.canvas.ellipse({face.x, face.y + 0.055 * r}, 0.028 * r, open * r, stage.seen({0.55, 0.22, 0.2}));
}

/// Hair, face, safety glasses and ear defenders: riveting is loud.
void draw_head(Stage& stage, const Figure& figure, double facing, Seconds t) {
  const double nod = figure.talks ? 0.012 * std::sin(t * 9) : 0;
  const Point skull = above_feet(figure, 1.60 + nod);
  const double r = stage.pixels(skull, 1);
  const Dot head = stage.lens.project(skull);
  stage.canvas.ellipse({head.x, head.y - 0.015 * r}, 0.105 * r, 0.132 * r, stage.seen(figure.hair));
  if (facing > -0.35) draw_face(stage, figure, head, r, t);
  const std::array<Dot, 5> band{{{head.x - 0.108 * r, head.y},
                                 {head.x - 0.085 * r, head.y - 0.11 * r},
                                 {head.x, head.y - 0.155 * r},
                                 {head.x + 0.085 * r, head.y - 0.11 * r},
                                 {head.x + 0.108 * r, head.y}}};
  stage.canvas.stroke(band, std::max(1.0, 0.025 * r), stage.seen(black));
  for (const double ear : {-0.11, 0.11}) {
    stage.canvas.ellipse({head.x + ear * r, head.y + 0.01 * r}, 0.032 * r, 0.055 * r, stage.seen({0.85, 0.30, 0.12}));
  }
}

}  // namespace

Hands hands_at(const std::vector<Act>& acts, Seconds t, Point rest) {
  constexpr Seconds move = 0.7;
  const auto next = std::ranges::upper_bound(acts, t, {}, &Act::begin);
  const Act* const before = next == acts.begin() ? nullptr : &*(next - 1);
  const Act* const after = next == acts.end() ? nullptr : &*next;
  if (before != nullptr && t < before->end) return {before->at, before->tool, true};
  if (before != nullptr && after != nullptr && after->begin - before->end < 3 * move) {
    const double share = (t - before->end) / std::max(1e-3, after->begin - before->end);
    return {on_the_way(before->at, after->at, share), share < 0.5 ? before->tool : after->tool, false};
  }
  if (before != nullptr && t < before->end + move) {
    return {on_the_way(before->at, rest, (t - before->end) / move), before->tool, false};
  }
  if (after != nullptr && t > after->begin - move) {
    return {on_the_way(rest, after->at, 1 - (after->begin - t) / move), after->tool, false};
  }
  return {rest, Tool::none, false};
}

void draw_body(Stage& stage, const Figure& figure, Seconds t) {
  const Point waist = above_feet(figure, 1.0);
  if (stage.lens.depth(waist) < 0.6) return;
  const double facing = dot(figure.faces, stage.lens.towards_camera(above_feet(figure, 1.6)));
  draw_legs_and_torso(stage, figure, facing);
  draw_head(stage, figure, facing, t);
}

void draw_hands(Stage& stage, const Figure& figure, const Hands& hands, Seconds t) {
  const Point chest = above_feet(figure, 1.36);
  if (stage.lens.depth(chest) < 0.6) return;
  const Point side = right_of(figure);
  const double wobble = hands.at_work ? std::sin(t * 235) : 0;
  const Point held = draw_tool(stage, hands.tool, hands.at, figure.faces * -1.0, wobble);
  const Point other = hands.tool == Tool::plans ? hands.at + side * 0.22
                                                : hands.at + side * -0.14 + figure.faces * -0.10 + Point{0, 0, 0.03};
  draw_arm(stage, figure, chest - side * 0.19, other, -1);
  draw_arm(stage, figure, chest + side * 0.19, held, 1);
}

}  // namespace jigtime::demo
