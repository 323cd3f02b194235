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

/// The word under the lamp, drawn in lines so that no font is needed.
void write_gun(Canvas& board, double unit) {
  constexpr Dot corner{61.5, 34.5};
  constexpr std::array<Dot, 6> g{{{4, 0.8}, {0.8, 0}, {0, 2.5}, {0.8, 5}, {4, 5}, {4, 2.8}}};
  constexpr std::array<Dot, 4> u{{{6.5, 0}, {6.5, 5}, {10.5, 5}, {10.5, 0}}};
  constexpr std::array<Dot, 4> n{{{13, 5}, {13, 0}, {17, 5}, {17, 0}}};
  const auto draw = [&](std::span<const Dot> letter) {
    std::vector<Dot> line;
    for (const Dot dot : letter) line.push_back({(corner.x + dot.x) * unit, (corner.y + dot.y) * unit});
    board.stroke(line, 1.2 * unit, cream.darker(0.75));
  };
  draw(g);
  draw(u);
  draw(n);
}

void paint_plate(Canvas& board, double unit, Dot low, Dot high, Colour colour) {
  const std::array<Dot, 4> shape{{{low.x * unit, low.y * unit},
                                  {high.x * unit, low.y * unit},
                                  {high.x * unit, high.y * unit},
                                  {low.x * unit, high.y * unit}}};
  board.fill(shape, colour);
}

void paint_disc(Canvas& board, double unit, Dot centre, double radius, Colour colour) {
  board.ellipse({centre.x * unit, centre.y * unit}, radius * unit, radius * unit, colour);
}

Dot on_dial(double turns, double radius) {
  const double angle = 2 * std::numbers::pi * turns;
  return {dial.x + radius * std::sin(angle), dial.y - radius * std::cos(angle)};
}

void paint_dial(Canvas& board, double unit) {
  paint_disc(board, unit, dial, dial_radius + 1.2, {0.62, 0.50, 0.28});
  paint_disc(board, unit, dial, dial_radius, cream);
  for (int hour = 0; hour < 12; ++hour) {
    const bool quarter = hour % 3 == 0;
    const Dot outer = on_dial(hour / 12.0, dial_radius - 1.5);
    const Dot inner = on_dial(hour / 12.0, dial_radius - (quarter ? 5.0 : 3.5));
    const std::array<Dot, 2> mark{{{outer.x * unit, outer.y * unit}, {inner.x * unit, inner.y * unit}}};
    board.stroke(mark, (quarter ? 1.8 : 1.0) * unit, housing);
  }
}

/// Everything that never changes.
void paint_board(Canvas& board, double unit) {
  paint_plate(board, unit, {0, 0}, {board_width, board_height}, {0.30, 0.21, 0.14});
  paint_plate(board, unit, {1.5, 1.5}, {board_width - 1.5, board_height - 1.5}, housing);
  paint_plate(board, unit, {3, 41}, {board_width - 3, 60}, {0.05, 0.05, 0.05});
  paint_dial(board, unit);
  write_gun(board, unit);
  paint_disc(board, unit, lamp_at, 10, {0.05, 0.06, 0.07});
  paint_disc(board, unit, lamp_at, 8.5, {0.32, 0.13, 0.08});
  for (const double x : colon_at) {
    for (const double y : {5.0, 11.0}) paint_disc(board, unit, {x, digits_top + y}, 1.2, lit);
  }
  paint_disc(board, unit, {point_at, digits_top + 14.2}, 1.3, lit);
}

}  // namespace

ShopClock::ShopClock(Dot centre, int picture_height)
    : unit_{picture_height / 180.0},
      left_{static_cast<int>(centre.x - board_width * unit_ / 2)},
      top_{static_cast<int>(centre.y - board_height * unit_ / 2)},
      board_{static_cast<int>(board_width * unit_), static_cast<int>(board_height * unit_)} {
  paint_board(board_, unit_);
  for (std::size_t digit = 0; digit < 10; ++digit) digits_.push_back(make_digit(digit, unit_));
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
