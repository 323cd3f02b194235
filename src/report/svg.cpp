#include "report/svg.h"

#include "base/text.h"
#include "report/looks.h"

namespace jigtime::report {
namespace {

std::string number_text(double value) { return to_decimal_text(value, 1); }

class Drawing {
 public:
  Drawing(Markup& page, std::string prefix) : page_{page}, prefix_{std::move(prefix)} {}

  void patterns(std::initializer_list<Look> looks) {
    page_.open("defs");
    for (const Look look : looks) pattern(look);
    page_.close();
  }

  void rectangle(const Box& box, Look look) {
    const Style& style = style_of(look);
    page_.leaf("rect", {{"x", number_text(box.x)},
                        {"y", number_text(box.y)},
                        {"width", number_text(box.width)},
                        {"height", number_text(box.height)},
                        {"fill", "url(#" + id_of(look) + ")"},
                        {"stroke", style.outline},
                        {"stroke-width", "0.8"},
                        {"stroke-dasharray", style.dashes.empty() ? "none" : style.dashes}});
  }

  void line(double x1, double y1, double x2, double y2, std::string_view kind) {
    page_.leaf("line", {{"class", kind},
                        {"x1", number_text(x1)},
                        {"y1", number_text(y1)},
                        {"x2", number_text(x2)},
                        {"y2", number_text(y2)}});
  }

  void text(double x, double y, std::string_view kind, std::string_view words) {
    page_.element("text", words, {{"class", kind}, {"x", number_text(x)}, {"y", number_text(y)}});
  }

  /// A window with its own origin; what reaches over its edge is not seen.
  void open_window(const Box& box) {
    page_.open("svg", {{"x", number_text(box.x)},
                       {"y", number_text(box.y)},
                       {"width", number_text(box.width)},
                       {"height", number_text(box.height)},
                       {"overflow", "hidden"}});
  }

  Markup& page() { return page_; }

 private:
  std::string id_of(Look look) const { return prefix_ + std::string{style_of(look).id}; }

  void open_pattern(Look look, std::string_view size, std::string_view turn = "rotate(0)") {
    page_.open("pattern", {{"id", id_of(look)},
                           {"width", size},
                           {"height", size},
                           {"patternUnits", "userSpaceOnUse"},
                           {"patternTransform", turn}});
  }
  void ground(std::string_view colour, std::string_view opacity) {
    page_.leaf("rect", {{"width", "60"}, {"height", "60"}, {"fill", "#FFFFFF"}});
    page_.leaf("rect", {{"width", "60"}, {"height", "60"}, {"fill", colour}, {"fill-opacity", opacity}});
  }
  void stroke(std::string_view path, std::string_view colour, std::string_view width) {
    page_.leaf("path", {{"d", path}, {"stroke", colour}, {"stroke-width", width}, {"fill", "none"}});
  }

  void pattern(Look look) {
    open_pattern(look, style_of(look).hatch == Hatch::none ? "60" : "6",
                 style_of(look).hatch == Hatch::slanting ? "rotate(45)" : "rotate(0)");
    const Style& style = style_of(look);
    ground(style.ground, to_decimal_text(style.opacity, 2));
    const std::string width = to_decimal_text(style.ink_width, 1);
    switch (style.hatch) {
      case Hatch::none: break;
      case Hatch::upright:
      case Hatch::slanting: stroke("M1 0V6", style.ink, width); break;
      case Hatch::level: stroke("M0 1H6", style.ink, width); break;
      case Hatch::dots:
        page_.leaf("circle", {{"cx", "3"}, {"cy", "3"}, {"r", width}, {"fill", style.ink}, {"fill-opacity", "0.55"}});
        break;
    }
    page_.close();
  }

  Markup& page_;
  std::string prefix_;
};

void draw_ticks(Drawing& drawing, const StripLayout& strip) {
  for (const Tick& tick : strip.ticks) {
    drawing.line(tick.x, strip.axis_y - 3, tick.x, strip.height, "grid");
    drawing.text(tick.x + 3, strip.axis_y - 2, "tick", tick.label);
  }
  drawing.line(0, strip.axis_y + 2, chart_width, strip.axis_y + 2, "axis");
}

void draw_bar(Drawing& drawing, const Bar& bar) {
  Markup& page = drawing.page();
  page.open("g").element("title", bar.tooltip);
  drawing.rectangle(bar.box, bar.look);
  if (!bar.lines.empty()) {
    const double left = std::max(bar.box.x, 0.0);
    const double right = std::min(bar.box.x + bar.box.width, chart_width);
    drawing.open_window({left, bar.box.y, right - left, bar.box.height});
    const bool plain = style_of(bar.look).hatch == Hatch::none;
    const std::string kind = plain ? "bar" : "bar on-pattern";
    drawing.text(4, bar.lines.size() == 1 ? 20 : 14, kind, bar.lines[0]);
    if (bar.lines.size() > 1) drawing.text(4, 26, kind + " small", bar.lines[1]);
    page.close();
  }
  page.close();
}

void draw_whisker(Drawing& drawing, const Whisker& whisker) {
  drawing.line(whisker.from, whisker.y, whisker.to, whisker.y, "whisker");
  drawing.line(whisker.from, whisker.y - 3, whisker.from, whisker.y + 3, "whisker");
  drawing.line(whisker.to, whisker.y - 3, whisker.to, whisker.y + 3, "whisker");
}

void draw_flag(Drawing& drawing, const Flag& flag, double bottom) {
  Markup& page = drawing.page();
  page.open("g").element("title", flag.tooltip);
  drawing.line(flag.pole_x, flag.box.y, flag.pole_x, bottom, "pole");
  if (flag.box.width > 0) {
    page.leaf("rect", {{"x", number_text(flag.box.x)},
                       {"y", number_text(flag.box.y)},
                       {"width", number_text(flag.box.width)},
                       {"height", number_text(flag.box.height)},
                       {"fill", colours::blue}});
    drawing.text(flag.box.x + 4, flag.box.y + flag.box.height - 3, "flag", flag.text);
  }
  page.close();
}

void draw_chart(Drawing& drawing, const StripLayout& strip) {
  drawing.open_window({gutter_width, 0, chart_width, strip.height});
  draw_ticks(drawing, strip);
  for (const Bar& bar : strip.bars) draw_bar(drawing, bar);
  for (const Whisker& whisker : strip.whiskers) draw_whisker(drawing, whisker);
  for (const Leader& leader : strip.leaders) {
    drawing.line(leader.bar_x, leader.bar_y, leader.text_x, leader.text_y - 8, "leader");
    drawing.text(leader.text_x, leader.text_y, "label", leader.text);
  }
  for (const Flag& flag : strip.flags) draw_flag(drawing, flag, strip.height);
  drawing.page().close();
}

void draw_row_labels(Drawing& drawing, const StripLayout& strip) {
  for (const RowLabel& row : strip.rows) {
    drawing.page().open("g").element("title", row.tooltip);
    drawing.text(0, row.y + 14, "row", row.name);
    drawing.text(0, row.y + 26, "row small", row.about);
    drawing.page().close();
    drawing.line(0, row.y + row.height + 3.5, page_width, row.y + row.height + 3.5, "rule");
  }
}

std::string summary_of(const StripLayout& strip, int number, int of) {
  return "Strip " + std::to_string(number) + " of " + std::to_string(of) + ": session time " +
         to_short_clock_text(strip.strip.range.begin().time_since_epoch()) + " to " +
         to_short_clock_text(strip.strip.range.end().time_since_epoch()) +
         ". All that it shows is in the tables below.";
}

}  // namespace

void draw_strip(Markup& page, const StripLayout& strip, int number, int of) {
  const std::string prefix = "s" + std::to_string(number) + "-";
  const std::string view = "0 0 " + number_text(page_width) + " " + number_text(strip.height);
  page.open("svg", {{"class", "strip"}, {"role", "img"}, {"viewBox", view}, {"aria-labelledby", prefix + "title"}});
  page.element("title", summary_of(strip, number, of), {{"id", prefix + "title"}});
  Drawing drawing{page, prefix};
  drawing.patterns({Look::by_sound, Look::by_hand, Look::by_clock, Look::dropout, Look::work, Look::pause});
  draw_row_labels(drawing, strip);
  draw_chart(drawing, strip);
  page.close();
}

void draw_key(Markup& page) {
  page.open("ul", {{"class", "key"}, {"aria-label", "Key"}});
  for (const Look look : all_looks) {
    page.open("li").open("svg", {{"viewBox", "0 0 34 18"}, {"width", "34"}, {"height", "18"}, {"aria-hidden", "true"}});
    Drawing drawing{page, "key-"};
    drawing.patterns({look});
    drawing.rectangle({1, 2, 32, 14}, look);
    page.close().text(" ").text(style_of(look).words).close();
  }
  page.open("li").open("svg", {{"viewBox", "0 0 34 18"}, {"width", "34"}, {"height", "18"}, {"aria-hidden", "true"}});
  Drawing drawing{page, "key-"};
  draw_whisker(drawing, {4, 30, 9});
  page.close().text(" ").text(whisker_words).close();
  page.close();
}

}  // namespace jigtime::report
