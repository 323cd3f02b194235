#include "report/strip_picture.h"

#include <algorithm>

#include "report/lines.h"
#include "report/looks.h"

namespace jigtime::report {
namespace {

constexpr std::string_view black = colours::black;

void hatch(Canvas& canvas, const Box& box, const Style& style) {
  const Pen pen{style.ink, style.ink_width, 0};
  canvas.push();
  canvas.window(box);
  const double right = box.x + box.width;
  const double bottom = box.y + box.height;
  switch (style.hatch) {
    case Hatch::none: break;
    case Hatch::upright:
      for (double x = box.x + 1; x < right; x += hatch_step) canvas.line(x, box.y, x, bottom, pen);
      break;
    case Hatch::level:
      for (double y = box.y + 1; y < bottom; y += hatch_step) canvas.line(box.x, y, right, y, pen);
      break;
    case Hatch::slanting:
      for (double x = box.x - box.height; x < right; x += hatch_step * 1.414) {
        canvas.line(x, box.y, x + box.height, bottom, pen);
      }
      break;
    case Hatch::dots:
      for (double y = box.y + 3; y < bottom; y += hatch_step) {
        for (double x = box.x + 3; x < right; x += hatch_step) canvas.dot(x, y, style.ink_width, style.ink, 0.55);
      }
      break;
  }
  canvas.pop();
}

void draw_box(Canvas& canvas, const Box& box, Look look) {
  const Style& style = style_of(look);
  canvas.fill(box, style.ground, style.opacity);
  hatch(canvas, box, style);
  canvas.outline(box, {style.outline, 0.8, style.dashes.empty() ? 0.0 : 3.0});
}

/// Text with its baseline at y, on white where a pattern would make it hard to read.
class Writer {
 public:
  explicit Writer(Canvas& canvas) : canvas_{canvas}, lines_{canvas} {}

  enum class Ground { bare, white };
  void write(std::string_view text, double x, double baseline, const Type& type, Ground ground = Ground::bare) {
    lines_.set(text, type, 0);
    put(x, baseline, type, ground);
  }
  void write_centred(std::string_view text, double x, double baseline, const Type& type) {
    lines_.set(text, type, 0);
    put(x - lines_.width() / 2, baseline, type, Ground::bare);
  }

 private:
  void put(double x, double baseline, const Type& type, Ground ground) {
    // DejaVu Sans rises 0.93 of its size above the baseline.
    const double top = baseline - type.size * 0.93;
    if (ground == Ground::white) {
      canvas_.fill({x - 1.5, top + 1, lines_.width() + 3, type.size * 1.15}, colours::white, 0.85);
    }
    lines_.draw(x, top);
  }

  Canvas& canvas_;
  Lines lines_;
};

void draw_ticks(Canvas& canvas, Writer& writer, const StripLayout& strip) {
  for (const Tick& tick : strip.ticks) {
    canvas.line(tick.x, strip.axis_y - 3, tick.x, strip.height, {"#C8C8C8", 0.6, 0});
    writer.write(tick.label, tick.x + 3, strip.axis_y - 2, {9, false, false, false, black});
  }
  canvas.line(0, strip.axis_y + 2, chart_width, strip.axis_y + 2, {black, 1, 0});
}

void draw_bar(Canvas& canvas, Writer& writer, const Bar& bar) {
  draw_box(canvas, bar.box, bar.look);
  if (bar.lines.empty()) return;
  const double left = std::max(bar.box.x, 0.0);
  const double right = std::min(bar.box.x + bar.box.width, chart_width);
  const auto ground = style_of(bar.look).hatch == Hatch::none ? Writer::Ground::bare : Writer::Ground::white;
  canvas.push();
  canvas.window({left, bar.box.y, right - left, bar.box.height});
  writer.write(bar.lines[0], left + 4, bar.box.y + (bar.lines.size() == 1 ? 20 : 14),
               {large_text, false, false, false, black}, ground);
  if (bar.lines.size() > 1) {
    writer.write(bar.lines[1], left + 4, bar.box.y + 26, {small_text, false, false, false, black}, ground);
  }
  canvas.pop();
}

void draw_whisker(Canvas& canvas, const Whisker& whisker) {
  const Pen pen{black, 1.2, 0};
  canvas.line(whisker.from, whisker.y, whisker.to, whisker.y, pen);
  canvas.line(whisker.from, whisker.y - 3, whisker.from, whisker.y + 3, pen);
  canvas.line(whisker.to, whisker.y - 3, whisker.to, whisker.y + 3, pen);
}

void draw_flag(Canvas& canvas, Writer& writer, const Flag& flag, double bottom) {
  canvas.line(flag.pole_x, flag.box.y, flag.pole_x, bottom, {colours::blue, 0.9, 3});
  if (flag.box.width <= 0) return;
  canvas.fill(flag.box, colours::blue);
  writer.write(flag.text, flag.box.x + 4, flag.box.y + flag.box.height - 3,
               {small_text, true, false, false, colours::white});
}

void draw_chart(Canvas& canvas, Writer& writer, const StripLayout& strip) {
  canvas.push();
  canvas.move_origin(gutter_width, 0);
  canvas.window({0, 0, chart_width + 2, strip.height});
  draw_ticks(canvas, writer, strip);
  for (const Bar& bar : strip.bars) draw_bar(canvas, writer, bar);
  for (const Whisker& whisker : strip.whiskers) draw_whisker(canvas, whisker);
  for (const Leader& leader : strip.leaders) {
    canvas.line(leader.bar_x, leader.bar_y, leader.text_x, leader.text_y - 8, {"#444444", 0.6, 0});
    writer.write_centred(leader.text, leader.text_x, leader.text_y, {small_text, false, false, false, black});
  }
  for (const Flag& flag : strip.flags) draw_flag(canvas, writer, flag, strip.height);
  canvas.pop();
}

}  // namespace

void draw_strip(Canvas& canvas, const StripLayout& strip) {
  Writer writer{canvas};
  for (const RowLabel& row : strip.rows) {
    writer.write(row.name, 0, row.y + 14, {large_text, true, false, false, black});
    writer.write(row.about, 0, row.y + 26, {small_text, false, false, false, black});
    const double under = row.y + row.height + 3.5;
    canvas.line(0, under, page_width, under, {"#DCDCDC", 0.5, 0});
  }
  draw_chart(canvas, writer, strip);
}

void draw_key(Canvas& canvas) {
  Writer writer{canvas};
  const Type type{small_text, false, false, false, black};
  int number = 0;
  for (const Look look : all_looks) {
    const double x = number % 2 == 0 ? 0 : page_width / 2;
    const double y = number / 2 * 20.0;
    draw_box(canvas, {x + 1, y + 2, 32, 14}, look);
    writer.write(style_of(look).words, x + 40, y + 13, type);
    ++number;
  }
  draw_whisker(canvas, {4, 30, 69});
  writer.write(whisker_words, 40, 73, type);
}

}  // namespace jigtime::report
