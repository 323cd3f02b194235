#include "app/view/unplaced.h"

#include <algorithm>

namespace jigtime::app {

std::vector<UnplacedGroup> by_camera(const std::vector<report::UnplacedClip>& clips,
                                     const std::set<std::string>& unfolded) {
  std::vector<UnplacedGroup> groups;
  for (const report::UnplacedClip& clip : clips) {
    auto group =
        std::find_if(groups.begin(), groups.end(), [&](const UnplacedGroup& one) { return one.camera == clip.camera; });
    if (group == groups.end()) group = groups.insert(groups.end(), UnplacedGroup{clip.camera, 0, {}});
    const bool shown = group->count < shown_folded || unfolded.contains(clip.camera);
    ++group->count;
    if (!shown) continue;
    const bool new_reason = group->lines.empty() || group->lines.back().clip->why != clip.why;
    group->lines.push_back({&clip, new_reason});
  }
  return groups;
}

}  // namespace jigtime::app
