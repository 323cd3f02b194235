// What the builder says of where footage lies: one clip at a time, or one event in two clips.
// Begin reading at: place_clip, tie_clips.
#pragma once

#include <string>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Places the clip that holds the file so that the file's first picture lies at `at`; the next line-up holds it there.
/// Errors: not_found (no such file in the session; the message lists what there is), invalid (before zero), conflict
/// (sealed).
Done place_clip(store::Store& store, journal::SessionId session, const std::string& file_name, SessionTime at);

/// A moment of a file: `at` counts from the file's own first picture.
struct FileMoment {
  std::string file_name;
  Length at{0};
};

/// One event seen or heard in two files of different cameras: the next line-up lays them together there, whatever else
/// it hears, and a clip that nothing else places is placed by it. Errors: not_found, conflict (one camera, a time
/// that is not in the file, a sealed session).
Result<journal::Tie> tie_clips(store::Store& store, journal::SessionId session, const FileMoment& a,
                               const FileMoment& b);
Done untie_clips(store::Store& store, journal::SessionId session, journal::TieId tie);

/// The file and its own time of one end of a tie, as the builder gave it. Precondition: the record holds the clip.
FileMoment file_moment(const journal::SessionRecord& record, journal::ClipId clip, ClipTime at);

}  // namespace jigtime::actions
