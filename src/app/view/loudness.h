// A clip's loudness at every zoom.
// Must never know: where it came from, ImGui.
#pragma once

#include <cstdint>
#include <vector>

#include "base/piece.h"
#include "base/time.h"

namespace jigtime::app {

/// Peaks at a fixed rate and, for wider views, the peaks of eight, of 64 ... of them.
class Loudness {
 public:
  Loudness() = default;
  Loudness(ClipTime origin, int rate_hz, std::vector<std::uint8_t> peaks);

  bool empty() const { return levels_.empty(); }
  /// The loudest in [from, to); 0 outside. Looks at about sixteen numbers whatever the length.
  std::uint8_t loudest(ClipTime from, ClipTime to) const;

 private:
  ClipTime origin_{};
  int rate_hz_ = 1;
  std::vector<std::vector<std::uint8_t>> levels_;
};

}  // namespace jigtime::app
