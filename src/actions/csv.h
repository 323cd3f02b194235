// Tables as spreadsheets write them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

struct CsvRow {
  int line = 0;  ///< where the row begins, from 1
  std::vector<std::string> fields;
};

/// RFC 4180 and its usual variations: comma, semicolon or tab (told from the first line, or by a line "sep=;" in front
/// of it), LF, CRLF or CR, a UTF-8 byte order mark. Line ends inside a field come back as LF. Empty lines and rows
/// whose fields are all blank are left out. Code::invalid, with every line at fault, for an open quote, text behind a
/// closing quote, or bytes that are not UTF-8.
Result<std::vector<CsvRow>> read_csv(std::string_view text);

/// The separator by which read_csv parts that text: ',', ';' or a tab.
char csv_separator(std::string_view text);

}  // namespace jigtime::actions
