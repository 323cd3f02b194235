// The table of sealed hours that runs outside the journal, as it is in its file: what it holds, and what may be added.
// Must never know: the journal.
// Begin reading at: RunningTable::read.
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "base/result.h"

namespace jigtime::actions {

class RunningTable {
 public:
  /// What the table has of one entry.
  struct Sum {
    int entry = 0;  ///< its number
    int line = 0;   ///< of its first row, from 1
    std::size_t rows = 0;
    std::int64_t seconds = 0;
  };

  /// Empty when the file is not there yet. The table may have been saved by a spreadsheet meanwhile: with semicolons or
  /// tabs, a byte order mark, decimal commas. Errors: conflict (another table, a row that is not whole, a link that
  /// leads nowhere), invalid (no table), denied (the file is not to be written), not_found (no plain file).
  static Result<RunningTable> read(const std::filesystem::path& file);

  bool is_new() const { return bytes_.empty(); }
  /// By the digest of the entry.
  const std::map<std::string, Sum>& entries() const { return entries_; }
  /// The table with these rows (RFC 4180, as report::sealed_hours_rows) behind what was there, written as the others.
  std::string with(std::string_view rows) const;

 private:
  std::string in_its_own_way(std::string_view rows) const;

  std::string bytes_;
  char separator_ = ',';
  bool decimal_comma_ = false;
  std::map<std::string, Sum> entries_;
};

}  // namespace jigtime::actions
