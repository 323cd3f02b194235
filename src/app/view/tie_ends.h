// One event in two clips: where in a clip the moment on show lies, and the ties a clip has, in words.
// Must never know: ImGui, the store.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "actions/by_hand.h"
#include "journal/values.h"

namespace jigtime::app {

/// One end of a tie that is still to be made.
struct TieEnd {
  std::int64_t clip = 0;
  std::int64_t camera = 0;
  actions::FileMoment moment;
};

/// Nothing where the clip has no piece over `t`, or is no clip of the record.
std::optional<TieEnd> tie_end(const journal::SessionRecord& record, std::int64_t clip, SessionTime t);

struct TieLine {
  journal::TieId id;
  std::string a;  ///< "BNCH0041.MP4 at 0:01:02.500", counted from the file's own first picture
  std::string b;
};
std::vector<TieLine> ties_of(const journal::SessionRecord& record, std::int64_t clip);

/// The same words for one end.
std::string in_words(const actions::FileMoment& moment);

}  // namespace jigtime::app
