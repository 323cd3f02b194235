// Sessions of a shop whose truth is known: sounds at places, cameras that hear them late, through echoes, by clocks
// that run wrong, with pieces lost.
// Begin reading at: SessionPlan, simulate.
//
// Truth. A sound made at true time T reaches a camera later by its way through the air. What "placed right" means is
// therefore a choice: the instant T belongs to the clip time at which the *mean* sound of the session is heard, the
// mean taken over the foreground events. With Arrival::in_step all ways are equal and the choice disappears.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/time.h"
#include "bench/camera_clock.h"
#include "bench/microphone.h"
#include "bench/shop_room.h"
#include "bench/shop_schedule.h"
#include "sync/line_up.h"

namespace jigtime::bench {

struct Dropout {
  double at_s = 0;  ///< true time at which the camera stops taking
  double length_s = 0;
  bool stamped = false;  ///< the file's time stamps tell
};

struct ClipPlan {
  int camera = 0;
  double begin_s = 0;  ///< true time
  double end_s = 0;
  std::vector<Dropout> dropouts;
  double sound_starts_s = 0;  ///< the sound's first sample against the first picture
  bool has_sound = true;
  bool muted = false;  ///< digital silence
  std::vector<sync::ClockHint> clocks;
};

struct CameraPlan {
  Place microphone_at;
  CameraClock clock;
  Microphone microphone;
};

struct SessionPlan {
  std::uint64_t number = 0;
  Arrival arrival = Arrival::in_step;
  Room room;
  std::vector<Place> positions;
  std::vector<SoundEvent> events;
  double length_s = 0;
  std::vector<CameraPlan> cameras;
  std::vector<ClipPlan> clips;
};

/// A stretch of clip time and the camera clock's reading at its begin.
struct TrueStretch {
  double clip_from_s = 0;
  double clip_to_s = 0;
  double reading_s = 0;
};

struct TrueDropout {
  double clip_at_s = 0;
  double true_at_s = 0;
  double length_s = 0;
  bool stamped = false;
};

class SimulatedClip : public sync::Sound {
 public:
  ClipTime origin() const override { return ClipTime{from_seconds(plan.sound_starts_s)}; }
  std::int64_t count() const override { return static_cast<std::int64_t>(samples.size()); }
  Done read(std::int64_t first, std::span<float> out) const override;

  /// Clip time at which the mean sound of true instant `true_s` is heard; nothing if the clip missed it.
  std::optional<double> clip_time_of(double true_s) const;
  double length_s() const { return stretches.back().clip_to_s; }

  ClipPlan plan;
  CameraClock clock;
  double hearing_delay_s = 0;
  std::vector<TrueStretch> stretches;
  std::vector<TrueDropout> dropouts;
  std::vector<std::int16_t> samples;
};

/// Renders every clip of the plan; the same plan gives the same samples.
std::vector<SimulatedClip> simulate(const SessionPlan& plan);

}  // namespace jigtime::bench
