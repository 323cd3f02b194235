// Listening for what happened: proposals that the builder accepts or not.
#pragma once

#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// Runs the detectors over every placed clip with sound, joins what several cameras heard of the same moment into one
/// proposal, and replaces the session's proposals with them, by time. Errors: not_found (nothing is placed: line up
/// first), cancelled.
Result<std::vector<journal::Proposal>> detect_in_session(store::Store& store, journal::SessionId session,
                                                         const Watch& watch);

}  // namespace jigtime::actions
