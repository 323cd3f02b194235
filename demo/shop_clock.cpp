#include "demo/shop_clock.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace jigtime::demo {
namespace {

constexpr double board_width = 96, board_height = 62;
constexpr Dot dial{25, 21};
constexpr double dial_radius = 18;
constexpr Dot lamp_at{70, 22};
constexpr double digit_width = 11, digit_height = 16;
constexpr double digits_top = 43;
/// Left edges of h, mm, ss and the tenth; between them two colons and a point.
constexpr std::array<double, 6> digit_left{5, 20, 32, 49, 61, 79};
constexpr std::array<double, 2> colon_at{17.8, 46.4};
constexpr double point_at = 75.5;

constexpr Colour lit{1.0, 0.72, 0.18};
constexpr Colour housing{0.13, 0.18, 0.20};
constexpr Colour cream{0.97, 0.95, 0.88};

/// Segments a to g of the usual seven, bit 0 is a.
constexpr std::array<unsigned, 10> segments_of{0x3F, 0x06, 0x5B, 0x4F, 0x66, 0x6D, 0x7D, 0x07, 0x7F, 0x6F};

struct Segment {
  Dot from;
  Dot to;
};

constexpr std::array<Segment, 7> segments{{{{2.6, 1.8}, {8.4, 1.8}},
                                           {{9.2, 2.6}, {9.2, 7.2}},
                                           {{9.2, 8.8}, {9.2, 13.4}},
                                           {{2.6, 14.2}, {8.4, 14.2}},
                                           {{1.8, 8.8}, {1.8, 13.4}},
                                           {{1.8, 2.6}, {1.8, 7.2}},
                                           {{2.6, 8.0}, {8.4, 8.0}}}};

Canvas make_digit(std::size_t digit, double unit) {
  Canvas canvas{static_cast<int>(std::ceil(digit_width * unit)) + 1,
                static_cast<int>(std::ceil(digit_height * unit)) + 1};
  for (std::size_t i = 0; i < segments.size(); ++i) {
    if (((segments_of[digit] >> i) & 1U) == 0) continue;
    const std::array<Dot, 2> line{
        {{segments[i].from.x * unit, segments[i].from.y * unit}, {segments[i].to.x * unit, segments[i].to.y * unit}}};
    canvas.stroke(line, 2.2 * unit, lit);
  }
  return canvas;
}

std::array<Dot, 4> rectangle(double left, double top, double right, double bottom) {
  return {{{left, top}, {right, top}, {right, bottom}, {left, bottom}}};
}

Dot on_dial(double turns, double radius) {
  const double angle = 2 * std::numbers::pi * turns;
  return {dial.x + radius * std::sin(angle), dial.y - radius * std::cos(angle)};
}

}  // namespace

ShopClock::ShopClock(Dot centre, int picture_height)
    : unit_{picture_height / 180.0},
      left_{static_cast<int>(centre.x - board_width * unit_ / 2)},
      top_{static_cast<int>(centre.y - board_height * unit_ / 2)},
      board_{static_cast<int>(board_width * unit_), static_cast<int>(board_height * unit_)} {
  const double u = unit_;
  const auto scaled = [&](std::array<Dot, 4> shape) {
    for (Dot& dot : shape) dot = {dot.x * u, dot.y * u};
    return shape;
  };
  board_.fill(scaled(rectangle(0, 0, board_width, board_height)), Colour{0.30, 0.21, 0.14});
  board_.fill(scaled(rectangle(1.5, 1.5, board_width - 1.5, board_height - 1.5)), housing);
  board_.fill(scaled(rectangle(3, 41, board_width - 3, 60)), Colour{0.05, 0.05, 0.05});
  board_.ellipse({dial.x * u, dial.y * u}, (dial_radius + 1.2) * u, (dial_radius + 1.2) * u, {0.62, 0.50, 0.28});
  board_.ellipse({dial.x * u, dial.y * u}, dial_radius * u, dial_radius * u, cream);
  for (int hour = 0; hour < 12; ++hour) {
    const Dot outer = on_dial(hour / 12.0, dial_radius - 1.5);
    const Dot inner = on_dial(hour / 12.0, dial_radius - (hour % 3 == 0 ? 5.0 : 3.5));
    const std::array<Dot, 2> mark{{{outer.x * u, outer.y * u}, {inner.x * u, inner.y * u}}};
    board_.stroke(mark, (hour % 3 == 0 ? 1.8 : 1.0) * u, housing);
  }
  board_.text({lamp_at.x * u, 38 * u}, 7 * u, "GUN", cream.darker(0.75), Edge::middle);
  board_.ellipse({lamp_at.x * u, lamp_at.y * u}, 10 * u, 10 * u, {0.05, 0.06, 0.07});
  board_.ellipse({lamp_at.x * u, lamp_at.y * u}, 8.5 * u, 8.5 * u, {0.32, 0.13, 0.08});
  for (const double x : colon_at) {
    for (const double y : {5.0, 11.0}) board_.ellipse({x * u, (digits_top + y) * u}, 1.2 * u, 1.2 * u, lit);
  }
  board_.ellipse({point_at * u, (digits_top + 14.2) * u}, 1.3 * u, 1.3 * u, lit);
  for (std::size_t digit = 0; digit < 10; ++digit) digits_.push_back(make_digit(digit, u));
}

void ShopClock::hang(Canvas& room) const {
  for (const double x : {14.0, board_width - 14}) {
    const std::array<Dot, 2> rod{{{left_ + x * unit_, 0}, {left_ + x * unit_, top_ + 1.0}}};
    room.stroke(rod, 1.6 * unit_, housing);
  }
}

void ShopClock::draw(Canvas& canvas, Seconds time_of_day, Seconds session, Lamp lamp) const {
  canvas.lay(board_, left_, top_);
  draw_hands(canvas, time_of_day);
  draw_digits(canvas, session);
  if (lamp == Lamp::dark) return;
  const Dot at{left_ + lamp_at.x * unit_, top_ + lamp_at.y * unit_};
  canvas.glow(at, 24 * unit_, {1.0, 0.45, 0.1, 0.8});
  canvas.ellipse(at, 8.5 * unit_, 8.5 * unit_, {1.0, 0.62, 0.15});
  canvas.ellipse(at, 4.5 * unit_, 4.5 * unit_, {1.0, 0.95, 0.75});
}

void ShopClock::draw_hands(Canvas& canvas, Seconds time_of_day) const {
  const auto hand = [&](double turns, double back, double length, double width, Colour colour) {
    const Dot from = on_dial(turns + 0.5, back);
    const Dot to = on_dial(turns, length);
    const std::array<Dot, 2> line{
        {{left_ + from.x * unit_, top_ + from.y * unit_}, {left_ + to.x * unit_, top_ + to.y * unit_}}};
    canvas.stroke(line, width * unit_, colour);
  };
  hand(std::fmod(time_of_day / 43'200, 1), 2, 9, 2.2, housing);
  hand(std::fmod(time_of_day / 3'600, 1), 2, 14, 1.5, housing);
  hand(std::fmod(time_of_day / 60, 1), 4, 15.5, 0.9, {0.80, 0.12, 0.10});
}

void ShopClock::draw_digits(Canvas& canvas, Seconds session) const {
  // A hair above, so that 0.3 does not show as 0.2 because it is 0.29999.
  const auto tenths = static_cast<unsigned>(std::max(0.0, session) * 10 + 1e-6);
  const unsigned seconds = tenths / 10;
  const std::array<unsigned, 6> shown{seconds / 3600 % 10, seconds / 600 % 6, seconds / 60 % 10,
                                      seconds / 10 % 6,    seconds % 10,      tenths % 10};
  for (std::size_t i = 0; i < shown.size(); ++i) {
    canvas.lay(digits_[shown[i]], left_ + static_cast<int>(digit_left[i] * unit_),
               top_ + static_cast<int>(digits_top * unit_));
  }
}

}  // namespace jigtime::demo
