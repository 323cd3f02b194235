// Long stretches in which nobody seems to be at work.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>

#include "detect/background.h"
#include "detect/envelope.h"

namespace jigtime::detect {

/// Shortest stretch that is proposed as a break.
inline constexpr double shortest_pause_s = 300;

struct Pause {
  double begin_s = 0;  ///< since the first frame
  double end_s = 0;
  double confidence = 0;
};

/// A second is lively when the level jumps above that of the seconds before it, so a fan, a compressor that runs and
/// steady noise are quiet. One lively second in a minute (a door, a compressor starting) is forgiven and costs
/// confidence; more end the stretch. Digital silence is a muted camera, not a quiet shop: it ends a stretch too.
/// Music and talk are lively, so a break with the radio on is not seen.
class PauseFinder {
 public:
  /// Handed out when the stretch ends.
  std::optional<Pause> add(const Frame& frame);
  std::optional<Pause> finish();
  /// Something else tells of work that began at `begin_s` (a riveting burst too weak to be lively).
  std::optional<Pause> work(double begin_s);

 private:
  std::optional<Pause> end_of_second();
  std::optional<Pause> close(double end_s);
  double now_s() const { return static_cast<double>(frames_) / frames_per_second; }

  std::int64_t frames_ = 0;
  double sum_ = 0;
  Background background_{12};
  float highest_above_db_ = 0;  ///< of this second
  bool heard_ = false;          ///< in this second
  std::optional<double> begin_s_;
  std::deque<double> lively_;  ///< lively seconds of the last minute
  int forgiven_ = 0;
};

}  // namespace jigtime::detect
