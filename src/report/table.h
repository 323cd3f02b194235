// A table as values, and the one way it is written.
// Must never know: what is in it.
// Begin reading at: Table.
#pragma once

#include <string>
#include <vector>

#include "report/markup.h"

namespace jigtime::report {

/// Wide words keep room for a few of them side by side; lines of times and of digests are not broken. Digests of 64
/// letters stand whole in a line, so that who copies one gets it.
enum class Align { words, wide_words, numbers, times, digests };

struct Column {
  std::string title;
  Align align = Align::words;
};

using Row = std::vector<std::string>;  ///< as many cells as there are columns; a line feed in a cell stays a new line

struct Table {
  std::string caption;
  std::vector<Column> columns;
  std::vector<Row> rows;
  std::vector<Row> totals;  ///< set off below the rows
  std::string when_empty;   ///< a sentence shown in place of a table without rows
};

/// The first cell of a row is its heading.
void write_table(Markup& page, const Table& table);

}  // namespace jigtime::report
