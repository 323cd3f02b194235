// One recording's own time: which picture and which sample happen when, and how it is cut into parts.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

#include "demo/scenario.h"

namespace jigtime::demo {

/// One file: pictures [first_picture, end_picture) of its recording.
struct PartPlan {
  std::int64_t first_picture = 0;
  std::int64_t end_picture = 0;
  std::filesystem::path path;  ///< on the camera's card
};

class Recording {
 public:
  /// Both are used until the recording's end. Splits are only given to cameras whose pictures last a whole number of
  /// samples, so that a part's sound can begin with its first picture.
  Recording(const Scenario& scenario, const RecordingPlan& plan);

  const RecordingPlan& plan() const { return plan_; }
  const CameraPlan& camera() const { return camera_; }
  const std::vector<PartPlan>& parts() const { return parts_; }

  /// Clip time of picture n.
  Seconds picture_time(std::int64_t picture) const;
  Seconds scene_of_picture(std::int64_t picture) const;
  Seconds scene_of_sample(std::int64_t sample) const;
  /// Scene seconds from one sample to the next.
  Seconds sample_step() const;
  /// The first sample at or after the moment at which picture n begins.
  std::int64_t sample_at_picture(std::int64_t picture) const;

  /// First picture after the loss, and what was lost, in clip seconds; -1 and 0 when nothing was.
  std::int64_t loss_at_picture() const { return loss_at_; }
  Seconds lost_length() const;

  /// What the camera's own clock shows at that scene time.
  WallTime device_time(Seconds scene) const;

 private:
  Seconds scene_at(Seconds clip_time, bool after_loss) const;
  std::filesystem::path part_path(std::int64_t first_picture, int index) const;

  const Scenario& scenario_;
  const RecordingPlan& plan_;
  const CameraPlan& camera_;
  std::int64_t loss_at_ = -1;
  std::vector<PartPlan> parts_;
};

}  // namespace jigtime::demo
