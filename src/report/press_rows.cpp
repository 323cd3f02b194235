// Rows of cells: set together, and taken over to the next page line by line where they must.
#include <algorithm>

#include "base/text.h"
#include "report/press.h"
#include "report/text_width.h"

namespace jigtime::report {
namespace {

constexpr double table_size = 7.8;
constexpr double column_gap = 9;
constexpr double whole_share = 0.3;  // of a page: a row up to that is not parted
constexpr double digest_size = 6.3;  // 64 letters beside three other columns

struct Want {
  double least = 0;
  double natural = 0;
  double title = 0;  ///< of the column's title on one line
};

/// Of the longest line, and of the longest word.
Want want_of(std::string_view text, double font_size, bool whole_lines) {
  Want want;
  std::size_t line_from = 0;
  while (line_from <= text.size()) {
    const std::size_t line_to = std::min(text.find('\n', line_from), text.size());
    const std::string_view line = text.substr(line_from, line_to - line_from);
    want.natural = std::max(want.natural, text_width(line, font_size));
    for (std::size_t from = 0; from < line.size();) {
      const std::size_t to = std::min(line.find(' ', from), line.size());
      want.least = std::max(want.least, text_width(line.substr(from, to - from), font_size));
      from = to + 1;
    }
    line_from = line_to + 1;
  }
  if (whole_lines) want.least = want.natural;
  return want;
}

/// In a type whose letters are all as wide: DejaVu Sans Mono, 0.602 em.
Want want_of_digests(std::string_view text) {
  std::size_t longest = 0;
  for (const std::string& line : split(text, '\n')) longest = std::max(longest, line.size());
  const double width = static_cast<double>(longest) * 0.61 * digest_size;
  return {width, width, 0};
}

Want want_of(const Table& table, std::size_t column, double font_size, double longest) {
  constexpr std::size_t looked_at = 300;  // a table of thousands of rows is of one kind
  constexpr double longest_word = 90;
  constexpr double bold = 1.12;
  const Align align = table.columns[column].align;
  const bool whole = align == Align::times || align == Align::numbers || align == Align::digests;
  Want want = want_of(table.columns[column].title, font_size * bold, false);
  want.title = want.natural;
  want.natural = want.least;
  const auto take = [&](const Row& row, double size) {
    if (column >= row.size()) return;
    const Want cell = align == Align::digests ? want_of_digests(row[column]) : want_of(row[column], size, whole);
    want.least = std::max(want.least, whole ? cell.least : std::min(cell.least, longest_word));
    want.natural = std::max(want.natural, cell.natural);
  };
  for (std::size_t i = 0; i < std::min(looked_at, table.rows.size()); ++i) take(table.rows[i], font_size);
  for (const Row& row : table.totals) take(row, font_size * bold);
  // Columns of sentences get room for a few words, and do not take everybody else's for the longest of them.
  constexpr double few_words = 84;
  if (align == Align::wide_words) {
    want.least = std::max(want.least, std::min(want.natural, few_words));
  }
  if (!whole) want.natural = std::max(want.least, std::min(want.natural, longest));
  return {want.least + column_gap, want.natural + column_gap, want.title + column_gap};
}

Side side_of(Align align) { return align == Align::numbers ? Side::right : Side::left; }

}  // namespace

std::vector<double> column_widths(const Table& table, double width, double font_size) {
  std::vector<Want> wants;
  double least = 0;
  double natural = 0;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    wants.push_back(want_of(table, i, font_size, width * 0.36));
    least += wants.back().least;
    natural += wants.back().natural;
  }
  std::vector<double> widths;
  const double spread = natural > least ? std::clamp((width - least) / (natural - least), 0.0, 1.0) : 0;
  for (const Want& want : wants) {
    const double wanted = want.least + (want.natural - want.least) * spread;
    widths.push_back(least > width ? want.least * width / least : wanted);
  }
  // Room that no row wants is for titles, so that none stands in more lines than it must.
  double spare = width - natural;
  for (std::size_t i = 0; i < widths.size() && spare > 0; ++i) {
    const double more = std::clamp(wants[i].title - widths[i], 0.0, spare);
    widths[i] += more;
    spare -= more;
  }
  return widths;
}

double Press::set_row(const std::vector<SetCell>& cells) {
  while (lines_.size() < cells.size()) lines_.emplace_back(canvas_);
  double height = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    lines_[i].set(cells[i].text, cells[i].type, cells[i].width, cells[i].side);
    height = std::max(height, lines_[i].height());
  }
  return height;
}

void Press::put_row(const std::vector<SetCell>& cells, const RowStyle& style) {
  const double height = set_row(cells) + style.above + style.below;
  const bool is_short = height < page_room() * whole_share;
  if (height > room() && style.split == Split::whole_if_short && is_short && !fresh()) {
    break_page();
    set_row(cells);  // what was set on the page's head took their lines
  }
  if (height > room()) {
    split_row(cells, style);
    return;
  }
  y_ += style.above;
  begin_tag(style.row_tag);
  for (std::size_t i = 0; printing() && i < cells.size(); ++i) {
    begin_tag(style.cell_tag);
    lines_[i].draw(cells[i].x, y_);
    end_tag(style.cell_tag);
  }
  end_tag(style.row_tag);
  y_ += height - style.above;
}

double Press::row_lead(const std::vector<SetCell>& cells, const RowStyle& style) {
  const double height = set_row(cells) + style.above + style.below;
  if (style.split == Split::whole_if_short && height < page_room() * whole_share) return height;
  // What is taken over line by line leaves two behind, or all of fewer.
  double least = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const int count = lines_[i].count();
    least = std::max(least, lines_[i].height_of(0, std::min(count, count == 3 ? 3 : 2)));
  }
  return least + style.above + style.below;
}

void Press::split_row(const std::vector<SetCell>& cells, const RowStyle& style) {
  std::vector<int> done(cells.size(), 0);
  bool on_new_page = fresh();
  for (;;) {
    y_ += style.above;
    double used = 0;
    bool left = false;
    std::vector<int> now(cells.size(), 0);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const int remaining = lines_[i].count() - done[i];
      now[i] = std::min(remaining, lines_[i].fitting(done[i], room() - style.below));
      // Neither the first nor the last line of several stands alone.
      if (!on_new_page && now[i] < 2 && remaining > 2) now[i] = 0;
      if (now[i] + 1 == remaining && now[i] > 2) --now[i];
      if (now[i] == 2 && remaining == 3 && cells.size() == 1 && !on_new_page) now[i] = 0;
      if (on_new_page && now[i] == 0 && remaining > 0) now[i] = 1;
      left = left || now[i] < remaining;
    }
    begin_tag(style.row_tag);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      begin_tag(style.cell_tag);
      if (printing() && now[i] > 0) lines_[i].draw(cells[i].x, y_, done[i], now[i]);
      end_tag(style.cell_tag);
      used = std::max(used, lines_[i].height_of(done[i], now[i]));
      done[i] += now[i];
    }
    end_tag(style.row_tag);
    y_ += used + style.below;
    if (!left) return;
    break_page();
    set_row(cells);
    on_new_page = true;
  }
}

std::vector<SetCell> Press::cells_of(const Table& table, const Row& row, const std::vector<double>& widths,
                                     bool bold) const {
  std::vector<SetCell> cells;
  double x = left_;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const std::string_view text = i < row.size() ? std::string_view{row[i]} : std::string_view{};
    const Align align = table.columns[i].align;
    const bool digest = align == Align::digests && !bold;
    cells.push_back({text,
                     {digest ? digest_size : table_size, bold, false, digest, "#000000", align == Align::wide_words},
                     x,
                     widths[i] - column_gap,
                     side_of(align)});
    x += widths[i];
  }
  return cells;
}

void Press::put_table_head(const Table& table, const std::vector<double>& widths) {
  Row titles;
  for (const Column& column : table.columns) titles.push_back(column.title);
  const std::vector<SetCell> cells = cells_of(table, titles, widths, true);
  const double height = set_row(cells);
  y_ += 2;
  begin_tag("TR");
  for (std::size_t i = 0; printing() && i < cells.size(); ++i) {
    begin_tag("TH");
    lines_[i].draw(cells[i].x, y_ + height - lines_[i].height());
    end_tag("TH");
  }
  end_tag("TR");
  y_ += height + 2;
  if (printing()) canvas_.line(left_, y_, right_, y_, {"#000000", 0.8, 0});
}

double Press::table_lead(const Table& table) {
  if (table.rows.empty()) return 26;
  const std::vector<double> widths = column_widths(table, right_ - left_, table_size);
  Row titles;
  for (const Column& column : table.columns) titles.push_back(column.title);
  const double head = set_row(cells_of(table, titles, widths, true));
  const double first = set_row(cells_of(table, table.rows.front(), widths, false));
  return 30 + head + std::min(first, page_room() * whole_share);
}

void Press::put(const Table& table) {
  if (table.rows.empty()) {
    if (!table.when_empty.empty()) put(Paragraph{table.when_empty, Voice::small, {}});
    return;
  }
  const std::vector<double> widths = column_widths(table, right_ - left_, table_size);
  need(table_lead(table));
  if (!table.caption.empty()) {
    put_row({{table.caption, {8.5, true, false, false, "#000000"}, left_, right_ - left_, Side::left}},
            {4, 2, Split::by_line});
  }
  begin_tag("Table");
  put_table_head(table, widths);
  after_break_ = [&] { put_table_head(table, widths); };
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    // The last row and what is added up below it stay together.
    if (i + 1 == table.rows.size())
      need(24 + 14.0 * static_cast<double>(std::min<std::size_t>(table.totals.size(), 6)));
    put_row(cells_of(table, table.rows[i], widths, false), {2.5, 2.5, Split::whole_if_short, "TR", "TD"});
    if (printing()) canvas_.line(left_, y_, right_, y_, {"#9A9A9A", 0.4, 0});
  }
  for (const Row& row : table.totals) {
    if (printing() && &row == &table.totals.front()) canvas_.line(left_, y_, right_, y_, {"#000000", 0.8, 0});
    put_row(cells_of(table, row, widths, true), {2.5, 1.5, Split::whole_if_short, "TR", "TD"});
  }
  after_break_ = nullptr;
  end_tag("Table");
  y_ += 8;
}

}  // namespace jigtime::report
