// One session clock for all clips of a session.
// Begin reading at: line_up_session.
#pragma once

#include <string>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Listens to every clip, solves, and stores placements and camera clocks as one edit. Session time of what was tagged
/// before stays with the footage it was tagged on: if an earlier clip turns up, everything on the session clock moves
/// together. Manual placements are held, and so is the time of day that the builder said the session began at. One
/// clip's failure costs that clip its sound, no more. Errors: not_found (no clips), conflict (sealed), cancelled, the
/// store's. On any error the journal is as it was.
Result<journal::SessionRecord> line_up_session(store::Store& store, journal::SessionId session, const Watch& watch);

}  // namespace jigtime::actions
