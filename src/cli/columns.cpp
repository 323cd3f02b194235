#include "cli/columns.h"

#include <algorithm>

namespace jigtime::cli {

void say_columns(Terminal& terminal, const std::vector<std::vector<std::string>>& rows) {
  if (rows.empty()) return;
  std::vector<std::size_t> widths(rows.front().size(), 0);
  const auto letters = [](const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
  };
  for (std::size_t i = 1; i < rows.size(); ++i) {
    for (std::size_t k = 0; k < widths.size(); ++k) widths[k] = std::max(widths[k], letters(rows[i][k]));
  }
  for (std::size_t k = 0; k < widths.size(); ++k) {
    if (widths[k] > 0) widths[k] = std::max(widths[k], letters(rows.front()[k]));
  }
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t k = 0; k < widths.size(); ++k) {
      if (widths[k] > 0) line += row[k] + std::string(widths[k] - std::min(widths[k], letters(row[k])) + 2, ' ');
    }
    terminal.say(line.substr(0, line.find_last_not_of(' ') + 1));
  }
}

}  // namespace jigtime::cli
