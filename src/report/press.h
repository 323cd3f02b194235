// Sets a document's blocks on pages.
// Must never know: the drawing library, what the document is about.
// Begin reading at: Press::run. It is run twice: first to learn on which page everything stands, then to print.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "report/canvas.h"
#include "report/document.h"
#include "report/lines.h"

namespace jigtime::report {

struct PageNumbers {
  std::map<std::string, int> of_anchor;
  int total = 0;
};

enum class Pass { measure, print };

/// One cell of a row that is set at once: a table's, a fact, a paragraph.
struct SetCell {
  std::string_view text;
  Type type;
  double x = 0;
  double width = 0;
  Side side = Side::left;
};

/// How a row that does not fit goes over to the next page.
enum class Split { by_line, whole_if_short };
struct RowStyle {
  double above = 2;
  double below = 2;
  Split split = Split::whole_if_short;
  const char* row_tag = "P";  ///< of ISO 32000-1, 14.8.4; none where it is null
  const char* cell_tag = nullptr;
};

class Press {
 public:
  /// `numbers` are those of the pass before; none in the first. All must outlive this.
  Press(Canvas& canvas, const Document& document, const PageNumbers& numbers, Pass pass);
  PageNumbers run();

 private:
  // press.cpp: pages and the order of blocks
  void set(std::size_t index);
  void begin_page();
  void break_page();
  void furnish_page();
  void need(double height);  ///< a new page unless so much room is left
  double room() const { return bottom_ - y_; }
  double page_room() const { return bottom_ - top_; }
  bool fresh() const { return y_ <= top_ + 0.01; }
  bool printing() const { return pass_ == Pass::print; }
  double heading_height(const Heading& heading);
  double lead_of(std::size_t index);  ///< room for a block's beginning, with headings all that they lead to
  /// Room without which a block begins on the next page. One function a kind of block, beside the one that puts it.
  double lead(const Heading& heading) { return heading_height(heading); }
  double lead(const Paragraph& paragraph);
  double lead(const FactList& list);
  double lead(const Table& table) { return table_lead(table); }
  double lead(const PictureGrid& grid);
  double lead(const DrawnStrip& strip) const;
  double lead(const DrawnKey& key) const;
  double lead(const TitlePage&) const { return 0; }
  double lead(const Contents&) const { return 18; }
  double lead(const PageBreak&) const { return 0; }
  void note_anchor(const Heading& heading);
  void begin_tag(const char* tag);  ///< nothing where it is null, or nothing is printed
  void end_tag(const char* tag);

  // press_blocks.cpp: one function a kind of block
  void put(const Heading& heading);
  void put(const Paragraph& paragraph);
  void put(const FactList& list);
  void put(const Table& table);
  void put(const PictureGrid& grid);
  void put(const DrawnStrip& strip);
  void put(const DrawnKey& key);
  void put(const TitlePage& page);
  void put(const Contents& contents);
  void put(const PageBreak& page_break);
  void put_picture_row(const std::vector<Picture>& pictures, std::size_t from, std::size_t count);
  std::vector<SetCell> captions_of(const std::vector<Picture>& pictures, std::size_t from, std::size_t count) const;
  double picture_width() const;
  std::vector<SetCell> cells_of(const Fact& fact) const;

  // press_rows.cpp: rows that may go on over the page
  double set_row(const std::vector<SetCell>& cells);  ///< sets the lines, returns their height
  void put_row(const std::vector<SetCell>& cells, const RowStyle& style);
  void split_row(const std::vector<SetCell>& cells, const RowStyle& style);
  double row_lead(const std::vector<SetCell>& cells, const RowStyle& style);
  double table_lead(const Table& table);
  void put_table_head(const Table& table, const std::vector<double>& widths);
  std::vector<SetCell> cells_of(const Table& table, const Row& row, const std::vector<double>& widths, bool bold) const;

  Canvas& canvas_;
  const Document& document_;
  const PageNumbers& numbers_;
  Pass pass_;
  PageNumbers found_;
  Size page_;
  double left_ = 0;
  double right_ = 0;
  double top_ = 0;
  double bottom_ = 0;
  double y_ = 0;
  int page_number_ = 0;
  std::string section_;  ///< the last heading of level 1
  int outline_[4] = {0, 0, 0, 0};
  std::vector<Lines> lines_;  ///< one a cell, used again for every row
  std::function<void()> after_break_;
};

/// How wide the columns of a table become within `width`, gaps between them included in each.
std::vector<double> column_widths(const Table& table, double width, double font_size);

}  // namespace jigtime::report
