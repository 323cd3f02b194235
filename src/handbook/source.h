// Where a figure comes from, and how far it can be trusted.
// Must never know: which figure it stands beside.
// Begin reading at: Source.
#pragma once

#include <string>
#include <string_view>

namespace jigtime::handbook {

enum class Seen {
  seen,      ///< read in a copy of the document itself
  quoted,    ///< read only as somebody else quotes or restates it
  memory,    ///< not checked against any document
  computed,  ///< arithmetic on the rows it names
};

/// Every row of every table carries one. `name` names the document and the place in it; empty for Seen::memory alone.
struct Source {
  std::string_view name;
  Seen seen = Seen::memory;
};

std::string_view to_text(Seen seen);
/// "FAA AC 43.13-1B, 4-57a", "MIL-R-47196A, as quoted elsewhere", "from memory, not checked against a document".
std::string to_text(const Source& source);

}  // namespace jigtime::handbook
