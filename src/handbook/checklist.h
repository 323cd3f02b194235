// Checklists as data: rows of one point each, split in whole tenths over who did it and how.
// Must never know: journals, files; what an authority finds.
// Begin reading at: parse_checklist. The shape of the text is told at the head of assets/checklists/metal-starter.txt.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::handbook {

/// Tenths of one point: the maker's, paid help's, the builder's by assembly, the builder's by fabrication. The four
/// columns are those of the checklist of 2009 and 2011 (seen in a completed copy), under names of our own.
using Tenths = std::array<int, 4>;
inline constexpr int tenths_of_a_point = 10;
inline constexpr std::array<std::string_view, 4> column_names{"maker", "paid help", "builder, assembly",
                                                              "builder, fabrication"};

struct ChecklistRow {
  std::string number;  ///< unique in its list
  std::string title;
  std::string section;  ///< may be empty
  bool applies = true;
  Tenths tenths{};  ///< ten together; all 0 where the row does not apply
  friend bool operator==(const ChecklistRow&, const ChecklistRow&) = default;
};

struct ChecklistText {
  std::string name;
  std::string title;
  std::string source;
  bool official = false;
  std::vector<ChecklistRow> rows;
  friend bool operator==(const ChecklistText&, const ChecklistText&) = default;
};

/// Code::invalid names every bad line and what would do.
Result<ChecklistText> parse_checklist(std::string_view text);
/// The same list as text; parse_checklist gives it back.
std::string to_text(const ChecklistText& list);

/// Four whole numbers parted by commas or blanks that add up to ten. Code::invalid says which it is not: 9 tenths,
/// below 0, not whole ("0.25"); a point written as 0.5 is told to be 5.
Result<Tenths> parse_tenths(std::string_view text);
std::string to_text(const Tenths& tenths);  ///< "5 3 0 2"

struct ChecklistSum {
  Tenths columns{};  ///< summed over the rows that apply
  int rows = 0;      ///< that apply
  int left_out = 0;  ///< that do not
  int total() const { return columns[0] + columns[1] + columns[2] + columns[3]; }
  int builder() const { return columns[2] + columns[3]; }
  /// Of the whole, 0 where nothing applies. (C + D) / (A + B + C + D): from memory, it follows from the columns.
  double percent(int tenths) const { return total() == 0 ? 0 : 100.0 * tenths / total(); }
  /// In whole numbers, so that exactly half is not more than half.
  bool more_than(int hundredths) const { return 100LL * builder() > 1LL * hundredths * total(); }
  bool at_least(int hundredths) const { return total() > 0 && 100LL * builder() >= 1LL * hundredths * total(); }
};

ChecklistSum sum_of(std::span<const ChecklistRow> rows);

}  // namespace jigtime::handbook
