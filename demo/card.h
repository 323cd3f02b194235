// Writes what a camera's card holds after the session, as it is copied into a folder.
#pragma once

#include <filesystem>

#include "base/result.h"
#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

/// Writes the parts of one recording below its camera's `folder`. Blocks for seconds; several may run at once. File
/// times are what the camera's clock showed at the end of each part.
Done write_recording(const Scenario& scenario, const Story& story, const RecordingPlan& plan,
                     const std::filesystem::path& folder);

/// Cards hold more than footage: a small text file beside it.
Done write_index(const CameraPlan& camera, const std::filesystem::path& folder);

}  // namespace jigtime::demo
