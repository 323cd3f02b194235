// Checklists in a journal: taken from those shipped or from a file, filled in, added up.
// Begin reading at: view_checklist.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "handbook/checklist.h"
#include "store/store.h"

namespace jigtime::actions {

/// The list's rows as the handbook counts them.
std::vector<handbook::ChecklistRow> rows_of(const journal::Checklist& list);

struct ShippedList {
  std::string name;
  std::string title;
};
std::vector<ShippedList> shipped_lists();

/// What is said about one row.
struct RowWords {
  std::string number;
  std::string words;  ///< tenths "5,3,0,2", or a task's title
};

/// In this order, as one edit: all of it or nothing.
struct ChecklistChange {
  std::string list;                           ///< may be empty where the journal has one list only
  std::string use;                            ///< takes this list that is shipped; empty for none
  std::optional<std::filesystem::path> file;  ///< reads this list of the builder's own, see import below
  std::vector<RowWords> split;                ///< a row that did not apply does then
  std::vector<std::string> left_out;          ///< numbers of rows that do not apply (N/A)
  std::vector<RowWords> carried;              ///< the task is work on that row
};

/// A list read from a file takes the place of the journal's list of that name; rows of the same number keep the tasks
/// that carry them. Errors: not_found (no such shipped list, file, list, row or task), invalid (every bad line of a
/// file; a split that is not ten tenths), conflict (a row that a task carries would be gone; a shipped list is there
/// already). Returns the name of the list that was changed.
Result<std::string> change_checklist(store::Store& store, const ChecklistChange& change);

/// The list as a text that change_checklist reads.
Result<std::string> checklist_text(const store::Store& store, std::string_view list);

struct ChecklistView {
  struct Row {
    journal::ChecklistLine line;
    std::vector<std::string> tasks;  ///< titles of the tasks that carry it
  };
  std::string name;
  std::string title;
  std::string source;
  bool official = false;
  std::vector<Row> rows;
  handbook::ChecklistSum sum;
  std::vector<std::string> sentences;  ///< the share against the journal's regime; that tasks carry the finding
  std::string caution;
};
Result<ChecklistView> view_checklist(const store::Store& store, std::string_view list);

}  // namespace jigtime::actions
