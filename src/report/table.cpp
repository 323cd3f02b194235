#include "report/table.h"

namespace jigtime::report {
namespace {

std::string_view class_of(const Column& column) {
  switch (column.align) {
    case Align::words: return "words";
    case Align::wide_words: return "words wide-words";
    case Align::numbers: return "number";
    case Align::times: return "time";
    case Align::digests: return "time digest";
  }
  return "words";
}

void write_row(Markup& page, const Table& table, const Row& row) {
  page.open("tr");
  for (std::size_t i = 0; i < row.size() && i < table.columns.size(); ++i) {
    if (i == 0) {
      page.element("th", row[i], {{"scope", "row"}, {"class", class_of(table.columns[i])}});
    } else {
      page.element("td", row[i], {{"class", class_of(table.columns[i])}});
    }
  }
  page.close();
}

}  // namespace

void write_table(Markup& page, const Table& table) {
  if (table.rows.empty()) {
    page.element("p", table.when_empty, {{"class", "empty"}});
    return;
  }
  page.open("div", {{"class", "wide"}}).open("table").element("caption", table.caption);
  page.open("thead").open("tr");
  for (const Column& column : table.columns) {
    page.element("th", column.title, {{"scope", "col"}, {"class", class_of(column)}});
  }
  page.close().close().open("tbody");
  for (const Row& row : table.rows) write_row(page, table, row);
  page.close();
  if (!table.totals.empty()) {
    page.open("tfoot");
    for (const Row& row : table.totals) write_row(page, table, row);
    page.close();
  }
  page.close().close();
}

}  // namespace jigtime::report
