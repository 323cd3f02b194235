// The one line of text that is typed at the bench while the film runs: a task, fasteners, a note, a mark, the words
// of one that is there, what waits, or a time to go to. Must never know: ImGui, the store.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/time.h"
#include "journal/values.h"

namespace jigtime::app {

enum class EntryKind { none, task, person, fasteners, note, mark, reword, waits, go_to };

struct Entry {
  EntryKind kind = EntryKind::none;
  std::string text;
  SessionTime at{};        ///< when its key was pressed: what is typed is about that instant
  std::string why_not;     ///< what was wrong with it at the last Enter
  std::int64_t about = 0;  ///< the mark whose words are typed
  int chosen = -1;         ///< of the completions; none
  bool open() const { return kind != EntryKind::none; }
};

/// What was typed, A to Z in small letters.
std::string lowered(std::string_view typed);

/// Titles that hold every typed word, those that begin with what was typed first; all of them for nothing typed. At
/// most `most`.
std::vector<std::string> matching_titles(std::string_view typed, const std::vector<std::string>& titles,
                                         std::size_t most);

/// "tool 12 inch drill": the kind in front, then what it is. Code::invalid names the kinds.
struct Waiting {
  journal::ItemKind kind = journal::ItemKind::part;
  std::string words;
};
Result<Waiting> read_waiting(std::string_view typed);

/// A time on the session clock as it is typed in a hurry: "1:02:03.5", "12:30" (minutes and seconds), "90" (seconds),
/// "+30" and "-30" from `now`. A comma may stand for the point. Code::invalid otherwise.
Result<SessionTime> read_moment(std::string_view typed, SessionTime now);

}  // namespace jigtime::app
