#include "report/press.h"

#include <algorithm>
#include <array>

namespace jigtime::report {
namespace {

constexpr Size a4{595.28, 841.89};
constexpr Type furniture{7.5, false, false, false, "#000000"};

Size page_of(Format format) { return format == Format::portrait ? a4 : Size{a4.height, a4.width}; }

Type heading_type(int level) {
  Type type;
  type.bold = true;
  type.size = level == 1 ? 16 : level == 2 ? 11.5 : 9.5;
  return type;
}

double space_above(int level) { return level == 1 ? 22 : level == 2 ? 16 : 9; }
double space_below(int level) { return level == 1 ? 8 : 4; }

}  // namespace

Press::Press(Canvas& canvas, const Document& document, const PageNumbers& numbers, Pass pass)
    : canvas_{canvas}, document_{document}, numbers_{numbers}, pass_{pass}, page_{page_of(document.format)} {
  // A book is bound on its left.
  left_ = document.format == Format::portrait ? 62 : 40;
  right_ = page_.width - (document.format == Format::portrait ? 42 : 40);
  top_ = 58;
  bottom_ = page_.height - 56;
}

PageNumbers Press::run() {
  begin_tag("Document");
  begin_page();
  for (std::size_t i = 0; i < document_.blocks.size(); ++i) set(i);
  furnish_page();
  end_tag("Document");
  found_.total = page_number_;
  return std::move(found_);
}

void Press::set(std::size_t index) {
  const Block& block = document_.blocks[index];
  if (std::holds_alternative<Heading>(block)) need(lead_of(index));
  std::visit([this](const auto& one) { put(one); }, block);
}

void Press::begin_page() {
  ++page_number_;
  y_ = top_;
}

void Press::break_page() {
  furnish_page();
  if (printing()) canvas_.next_page();
  begin_page();
  if (after_break_) after_break_();
}

void Press::need(double height) {
  if (height > room() && !fresh()) break_page();
}

void Press::furnish_page() {
  const bool title_page =
      page_number_ == 1 && !document_.blocks.empty() && std::holds_alternative<TitlePage>(document_.blocks.front());
  if (!printing() || title_page) return;
  Lines lines{canvas_};
  const double width = right_ - left_;
  lines.set(document_.head, furniture, width * 0.6, Side::left, 1);
  lines.draw(left_, 30);
  lines.set(section_, furniture, width * 0.38, Side::right, 1);
  lines.draw(left_ + width * 0.62, 30);
  canvas_.line(left_, 44, right_, 44, {"#000000", 0.5, 0});
  lines.set("Page " + std::to_string(page_number_) + " of " + std::to_string(numbers_.total), furniture, width,
            Side::right, 1);
  lines.draw(left_, page_.height - 40);
}

double Press::heading_height(const Heading& heading) {
  const double above = fresh() ? 0 : space_above(heading.level);
  return above + set_row({{heading.text, heading_type(heading.level), left_, right_ - left_, Side::left}}) +
         space_below(heading.level);
}

double Press::lead_of(std::size_t index) {
  double all = 0;
  for (; index < document_.blocks.size(); ++index) {
    const Block& block = document_.blocks[index];
    all += std::visit([this](const auto& one) { return lead(one); }, block);
    if (!std::holds_alternative<Heading>(block)) break;
  }
  return all;
}

void Press::note_anchor(const Heading& heading) {
  if (heading.anchor.empty()) return;
  found_.of_anchor[heading.anchor] = page_number_;
  if (!printing()) return;
  canvas_.anchor(heading.anchor, left_, y_);
  const int level = std::clamp(heading.level, 1, 3);
  outline_[level] = canvas_.add_outline(outline_[level - 1], heading.text, heading.anchor);
  for (int below = level + 1; below < 4; ++below) outline_[below] = outline_[level];
}

void Press::begin_tag(const char* tag) {
  if (printing() && tag != nullptr) canvas_.begin_tag(tag);
}

void Press::end_tag(const char* tag) {
  if (printing() && tag != nullptr) canvas_.end_tag(tag);
}

void Press::put(const Heading& heading) {
  if (heading.level == 1) section_ = heading.text;
  if (!fresh()) y_ += space_above(heading.level);
  const SetCell cell{heading.text, heading_type(heading.level), left_, right_ - left_, Side::left};
  const double height = set_row({cell});
  note_anchor(heading);
  if (printing()) {
    constexpr std::array<const char*, 3> tags{"H1", "H2", "H3"};
    const char* tag = tags.at(static_cast<std::size_t>(std::clamp(heading.level, 1, 3) - 1));
    begin_tag(tag);
    lines_[0].draw(left_, y_);
    end_tag(tag);
    if (heading.level < 3) {
      const double under = y_ + height + 2;
      canvas_.line(left_, under, right_, under, {"#000000", heading.level == 1 ? 1.2 : 0.5, 0});
    }
  }
  y_ += height + space_below(heading.level);
}

}  // namespace jigtime::report
