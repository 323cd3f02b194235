// The clips of a day that have no place, as they are listed: by camera, and each reason told once.
// Must never know: ImGui.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "report/day.h"

namespace jigtime::app {

/// Of each camera so many are shown before it is unfolded.
inline constexpr std::size_t shown_folded = 3;

struct UnplacedLine {
  const report::UnplacedClip* clip = nullptr;
  bool tells_why = false;  ///< the line before told another reason, or there is none
};

struct UnplacedGroup {
  std::string camera;
  std::size_t count = 0;            ///< of all its clips without a place
  std::vector<UnplacedLine> lines;  ///< all of them, or the first few
  bool folds() const { return count > shown_folded; }
};

/// Cameras and clips in the order given. `unfolded`: cameras of which all clips are wanted. The lines point into
/// `clips`.
std::vector<UnplacedGroup> by_camera(const std::vector<report::UnplacedClip>& clips,
                                     const std::set<std::string>& unfolded);

}  // namespace jigtime::app
