// Spans and marks, as words.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// A span as it is typed or read from a table.
struct SpanWords {
  SessionTime from;
  SessionTime to;
  bool pause = false;
  std::string task;                    ///< title
  std::string assembly;                ///< path; only used where the task is new or has none
  std::vector<std::string> people;     ///< names
  std::vector<std::string> fasteners;  ///< CALLOUT=SET[-DRILLED][:METHOD]
  std::string note;
  int line = 0;             ///< in the table it was read from; 0 for none
  bool off_camera = false;  ///< work that no camera was to see
};

struct Tagged {
  std::vector<journal::SpanId> spans;
  std::vector<std::string>
      created;  ///< people and tasks that were new: whole sentences, so that a slip of the pen is seen
};

/// Adds all spans as one edit, or none. People and tasks that do not exist yet are added (people as builders). Errors
/// as journal/rules.h; of spans with a line every bad one is named.
Result<Tagged> add_spans(store::Store& store, journal::SessionId session, const std::vector<SpanWords>& spans);

/// The same in a session that does not exist yet, as one edit.
Result<Tagged> add_spans(store::Store& store, const journal::Session& fresh, const std::vector<SpanWords>& spans);

Result<journal::MarkId> add_mark(store::Store& store, journal::SessionId session, SessionTime at,
                                 const std::string& note);

/// Errors: not_found, conflict (sealed).
Done change_mark(store::Store& store, journal::SessionId session, journal::MarkId mark, SessionTime at,
                 const std::string& note);
/// The same words once more, at another moment of the session. What hangs on the mark (open items, stills) stays with
/// the first. Errors: as change_mark, and invalid where the mark itself stands.
Result<journal::MarkId> copy_mark(store::Store& store, journal::SessionId session, journal::MarkId mark,
                                  SessionTime to);
Done delete_mark(store::Store& store, journal::SessionId session, journal::MarkId mark);

/// Reads a table as spreadsheets write it (see csv.h). The header line names the columns in any order and case: from,
/// to (needed; a comma may stand before the fraction), task, assembly, people or person, fasteners or fastener, note,
/// and kind (work or break) or break (yes or no). Several people or fasteners in one cell are parted by ; or | or a
/// line end; a name that holds one of these is set in quotes. An apostrophe in front of =, +, - or @ is a spreadsheet's
/// and no part of the text, so that an exported spans.csv reads back as it was. Code::invalid lists every bad row by
/// line and column (at most twenty).
Result<std::vector<SpanWords>> read_tags(std::string_view text);

/// Code::invalid with every fault on a line of its own (at most twenty), and that nothing was tagged. `faults` is not
/// empty.
Error all_of(const std::vector<std::string>& faults);

}  // namespace jigtime::actions
