// The log book: the whole build, or a stretch of it, as one file to print or to read.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

enum class PrintOrder { by_date, by_assembly };

struct BookAsked {
  std::filesystem::path file;                       ///< ends in .pdf or .html, which says what it becomes
  std::optional<std::chrono::year_month_day> from;  ///< both inclusive
  std::optional<std::chrono::year_month_day> until;
  PrintOrder order = PrintOrder::by_date;
};

struct BookMade {
  int sessions = 0;
  int sealed = 0;
  std::vector<std::string> faults;  ///< what does not fit in the chain of entries; printed in the book too
};

/// Writes the book as a whole or not at all. A file that is there is replaced only when it is a book that Jigtime wrote
/// and nobody changed since: the file's last line holds a digest of all before it. `now` is printed in it. Errors:
/// invalid (another ending, days the wrong way round), conflict, cancelled, denied, no_space, not_found, the store's.
Result<BookMade> write_book(const store::Store& store, const BookAsked& asked, WallTime now, const Watch& watch);

}  // namespace jigtime::actions
