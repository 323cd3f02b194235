// The known truth, written beside the cards.
#pragma once

#include <filesystem>

#include "base/result.h"
#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

/// Writes truth.json and tags.csv into `folder`.
///
/// truth.json: "session" (date), "zone", "build", "place", "zero_utc", "length_s", "people", "tasks", "planned";
/// "cameras": name, folder, rate_ppm, and sound_path_s, how long sound from the middle of the skin takes to it;
/// "files": camera, file (base name), path (from `folder`), clip (number of the recording), part, readable, sound,
///   session_start_s (scene time of the first picture), length_s (of its pictures), rate_ppm, creation_time and
///   "dropouts" (at_s in clip time of the recording, length_s in clip time);
/// "tags", "marks", "bursts" (begin_s, end_s), "hours" (task, person, seconds), "person_seconds", "elapsed_seconds".
Done write_truth(const Scenario& scenario, const Story& story, const std::filesystem::path& folder);

}  // namespace jigtime::demo
