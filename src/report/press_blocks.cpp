// One function a kind of block.
#include <algorithm>

#include "report/press.h"
#include "report/strip_picture.h"

namespace jigtime::report {
namespace {

constexpr double fact_name_width = 96;
constexpr double picture_gap = 10;
constexpr double picture_shape = 9.0 / 16;  // as most cameras make them; others are fitted in
constexpr double link_room = 40;

std::size_t pictures_a_row(Format format) { return format == Format::portrait ? 3 : 4; }

Type type_of(Voice voice) {
  switch (voice) {
    case Voice::plain: return {9, false, false, false, "#000000", true};
    case Voice::small: return {7.8, false, false, false, "#000000", true};
    case Voice::strong: return {9, true, false, false, "#000000"};
    case Voice::caution: return {8.5, false, true, false, "#000000"};
    case Voice::mono: return {7.5, false, false, true, "#000000"};
  }
  return {};
}

constexpr RowStyle paragraph_row{1.5, 3, Split::by_line};
constexpr RowStyle fact_row{1, 1.5, Split::whole_if_short};

struct ContentsLine {
  const Heading* heading;
  double indent;
};

std::vector<ContentsLine> lines_of_contents(const Document& document) {
  std::vector<ContentsLine> lines;
  for (const Block& block : document.blocks) {
    const auto* heading = std::get_if<Heading>(&block);
    if (heading == nullptr || heading->anchor.empty() || heading->level > 2) continue;
    lines.push_back({heading, heading->level == 1 ? 0.0 : 14.0});
  }
  return lines;
}

}  // namespace

double Press::lead(const Paragraph& paragraph) {
  if (paragraph.text.empty()) return 0;
  if (!paragraph.link.empty()) return link_room;
  return row_lead({{paragraph.text, type_of(paragraph.voice), left_, right_ - left_, Side::left}}, paragraph_row);
}

void Press::put(const Paragraph& paragraph) {
  if (paragraph.text.empty()) return;
  const bool boxed = paragraph.voice == Voice::caution;
  const double inset = boxed ? 8 : 0;
  if (!paragraph.link.empty()) need(link_room);  // a link does not go over a page's end
  const double from = y_;
  const int page = page_number_;
  put_row({{paragraph.text, type_of(paragraph.voice), left_ + inset, right_ - left_ - inset, Side::left}},
          paragraph_row);
  if (printing() && !paragraph.link.empty() && page == page_number_) {
    canvas_.link({left_, from, right_ - left_, y_ - from}, paragraph.link);
  }
  // A bar beside what must not be overlooked.
  if (printing() && boxed && page == page_number_) canvas_.fill({left_, from + 1, 2.5, y_ - from - 3}, "#000000");
}

std::vector<SetCell> Press::cells_of(const Fact& fact) const {
  return {{fact.name, {8.2, true, false, false, "#000000"}, left_, fact_name_width - 8, Side::left},
          {fact.value,
           {8.2, false, false, false, "#000000", fact.words == Whose::builders},
           left_ + fact_name_width,
           right_ - left_ - fact_name_width,
           Side::left}};
}

double Press::lead(const FactList& list) {
  return list.facts.empty() ? 0 : row_lead(cells_of(list.facts.front()), fact_row);
}

void Press::put(const FactList& list) {
  for (const Fact& fact : list.facts) {
    // Who copies the line, or has it read, gets two words.
    const Fact spaced{fact.name + " ", fact.value, fact.words};
    put_row(cells_of(spaced), fact_row);
  }
  y_ += 6;
}

double Press::picture_width() const {
  const auto side_by_side = static_cast<double>(pictures_a_row(document_.format));
  return (right_ - left_ - picture_gap * (side_by_side - 1)) / side_by_side;
}

std::vector<SetCell> Press::captions_of(const std::vector<Picture>& pictures, std::size_t from,
                                        std::size_t count) const {
  std::vector<SetCell> captions;
  for (std::size_t i = 0; i < count; ++i) {
    const double x = left_ + static_cast<double>(i) * (picture_width() + picture_gap);
    captions.push_back(
        {pictures[from + i].caption, {7.5, false, false, false, "#000000", true}, x, picture_width(), Side::left});
  }
  return captions;
}

double Press::lead(const PictureGrid& grid) {
  const std::size_t count = std::min(pictures_a_row(document_.format), grid.pictures.size());
  if (count == 0) return 0;
  const double words = set_row(captions_of(grid.pictures, 0, count));
  return std::min(picture_width() * picture_shape + 3 + words + 8, page_room());
}

void Press::put(const PictureGrid& grid) {
  const std::size_t most = pictures_a_row(document_.format);
  for (std::size_t i = 0; i < grid.pictures.size(); i += most) {
    put_picture_row(grid.pictures, i, std::min(most, grid.pictures.size() - i));
  }
}

void Press::put_picture_row(const std::vector<Picture>& pictures, std::size_t from, std::size_t count) {
  const double width = picture_width();
  const double picture_height = width * picture_shape;
  const std::vector<SetCell> captions = captions_of(pictures, from, count);
  const double words = set_row(captions);
  need(std::min(picture_height + 3 + words + 8, page_room()));
  for (std::size_t i = 0; printing() && i < count; ++i) {
    const auto bytes = document_.picture ? document_.picture(pictures[from + i]) : std::vector<std::uint8_t>{};
    const auto size = jpeg_size(bytes);
    const Box frame{captions[i].x, y_, width, picture_height};
    if (size) {
      const double by = std::min(frame.width / size->width, frame.height / size->height);
      const Box box{frame.x, frame.y, size->width * by, size->height * by};
      canvas_.picture(bytes, box);
      canvas_.outline(box, {"#000000", 0.4, 0});
    } else {
      canvas_.outline(frame, {"#000000", 0.5, 3});
      Lines said{canvas_};
      said.set(words_for_no_picture(pictures[from + i].kind, !bytes.empty()), type_of(Voice::small), width - 12,
               Side::centre);
      said.draw(frame.x + 6, frame.y + frame.height / 2 - 6);
    }
  }
  y_ += picture_height + 3;
  put_row(captions, {0, 8, Split::by_line});
}

double Press::lead(const DrawnStrip& strip) const {
  return std::min(strip.layout.height * (right_ - left_) / page_width + 10, page_room());
}

double Press::lead(const DrawnKey&) const { return key_height * (right_ - left_) / page_width; }

void Press::put(const DrawnStrip& strip) {
  const double by = (right_ - left_) / page_width;
  need(lead(strip));
  if (printing()) {
    canvas_.push();
    canvas_.move_origin(left_, y_);
    canvas_.scale(by);
    draw_strip(canvas_, strip.layout);
    canvas_.pop();
  }
  y_ += strip.layout.height * by + 12;
}

void Press::put(const DrawnKey& key) {
  const double by = (right_ - left_) / page_width;
  need(lead(key));
  if (printing()) {
    canvas_.push();
    canvas_.move_origin(left_, y_);
    canvas_.scale(by);
    draw_key(canvas_);
    canvas_.pop();
  }
  y_ += key_height * by + 6;
}

void Press::put(const TitlePage& page) {
  const double width = right_ - left_;
  const auto line = [&](const std::string& text, double size, bool bold, double below) {
    put_row({{text, {size, bold, false, false, "#000000"}, left_, width, Side::left}}, {0, below, Split::by_line});
  };
  y_ += page_room() * 0.12;
  line(page.over, 12, false, 6);
  line(page.title, 27, true, 10);
  for (const std::string& text : page.lines) line(text, 12, false, 3);
  if (printing()) canvas_.line(left_, y_ + 10, right_, y_ + 10, {"#000000", 1.2, 0});
  y_ += 26;
  put(FactList{page.facts});
  y_ += 14;
  for (const Paragraph& paragraph : page.notice) put(paragraph);
  break_page();
}

void Press::put(const Contents&) {
  const double width = right_ - left_;
  constexpr double number_width = 40;
  Lines number{canvas_};
  for (const ContentsLine& line : lines_of_contents(document_)) {
    const bool first = line.heading->level == 1;
    const Type type{first ? 9.0 : 8.2, first, false, false, "#000000"};
    const double above = first && !fresh() ? 5 : 0;
    need(above + 13);
    y_ += fresh() ? 0 : above;
    while (lines_.empty()) lines_.emplace_back(canvas_);
    lines_[0].set(line.heading->text, type, width - number_width - line.indent, Side::left, 1);
    if (printing()) {
      const auto page = numbers_.of_anchor.find(line.heading->anchor);
      number.set(page == numbers_.of_anchor.end() ? "" : std::to_string(page->second), type, number_width, Side::right,
                 1);
      begin_tag("P");
      lines_[0].draw(left_ + line.indent, y_);
      number.draw(right_ - number_width, y_);
      end_tag("P");
      canvas_.link({left_, y_, width, 13}, line.heading->anchor);
    }
    y_ += 13;
  }
}

void Press::put(const PageBreak&) {
  if (!fresh()) break_page();
}

}  // namespace jigtime::report
