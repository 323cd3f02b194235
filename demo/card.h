// Writes what one camera's card holds after the session, as it is copied into a folder.
#pragma once

#include <filesystem>

#include "base/result.h"
#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

/// Writes every recording of camera `camera` below `folder`, with its own index file beside them. Blocks for tens of
/// seconds. The clips are of the story; their file times are what the camera's clock showed at their end.
Done write_card(const Scenario& scenario, const Story& story, int camera, const std::filesystem::path& folder);

}  // namespace jigtime::demo
