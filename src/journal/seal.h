// The canonical text of a session's entry, and the chain.
// Must never know: which SHA-256 is used; the digest function is handed in.
// Begin reading at: canonical_text, then next_entry.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "journal/hours.h"
#include "journal/values.h"

namespace jigtime::journal {

/// Which lines a text has. Journals hold texts of both.
enum class TextForm {
  first,   ///< without the ids of people, tasks and cameras, and without what came later
  second,  ///< begins with "form: 2"
};
TextForm form_of(std::string_view text);

/// Stable, line-based, UTF-8, LF. Every line is "key: value" with a backslash written \\, a line feed \n and a carriage
/// return \r, so that a value is always one line and can be read back. Keys are numbered and stand in a fixed order.
/// Same record, same bytes. Times are exact, to the nanosecond.
/// Holds the build, date, place, people with roles, assemblies and plan references of the tasks worked on, hours per
/// task and person, spans, fasteners, notes, marks, open items opened here or closed by a span of the session,
/// inspections, and of the evidence each part's, photo's and still's name, size and digest, what its clocks said, and
/// where it lies. Of people, tasks and cameras the row ids too, so that a rename can be told from a change. Not in it:
/// folders, proposals (they count for nothing), people and tasks that the session does not name, and what may still
/// come to a sealed session (see as_sealed).
std::string canonical_text(const Build& build, const Register& known, const SessionRecord& record,
                           TextForm form = TextForm::second);

/// What people wrote in an entry's text (names, titles, notes, call-outs, file names), unescaped, one to a line: for
/// searching.
std::string written_words(std::string_view entry_text);

using Sha256Hex = std::function<std::string(std::string_view)>;

/// Stands where the first entry's predecessor would.
inline constexpr std::string_view no_digest = "0000000000000000000000000000000000000000000000000000000000000000";

/// Hex digest that an entry must carry: SHA-256 of previous, a line feed, text.
std::string chain_digest(std::string_view previous, std::string_view text, const Sha256Hex& sha256);

/// The whole entry that seals the record after the given ones (in order of number). Its text is the canonical text
/// followed by the entry's number and moment, so that those are under the digest too. The id stays 0.
Entry next_entry(const std::vector<Entry>& entries, const Build& build, const Register& known,
                 const SessionRecord& record, WallTime sealed_at, const Sha256Hex& sha256);

/// The whole amendment of the sealed session `entry` that stands in the chain: what its text says, what it should say,
/// and why. The id stays 0.
Entry next_amendment(const std::vector<Entry>& entries, const Entry& entry, const std::string& reason,
                     const std::string& before, const std::string& after, WallTime at, const Sha256Hex& sha256);

/// An entry's text without the number and moment below it: what canonical_text gave when it was sealed. On loan from
/// the entry.
std::string_view record_text(const Entry& entry);

struct ChainFault {
  int number = 0;
  std::string what;  ///< whole sentence
};
/// The first entry that does not fit, in order of number; nothing when all do. Checks numbers (1, 2, 3 ...), the link
/// to the entry before, the digest, where the text ends with them number and moment, and that an amendment's text is
/// made of its reason, what it says and which entry it amends.
std::optional<ChainFault> first_fault(const std::vector<Entry>& entries, const Sha256Hex& sha256);

}  // namespace jigtime::journal
