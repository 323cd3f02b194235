// The sound of one file of a clip, at any clip time, going forward.
#pragma once

#include <cstdint>
#include <optional>
#include <stop_token>
#include <vector>

#include "film/cameras.h"
#include "media/sound_reader.h"

namespace jigtime::film {

class PartSound {
 public:
  /// Out of the part's small copy when it has one and `use_copies` says so; out of the source when that fails.
  static Result<PartSound> open(const Part& part, int sample_rate_hz, bool use_copies, std::stop_token stop);

  const Part& part() const { return part_; }
  /// Sample i of `out` is the sound at from + i * step, `from` a time inside the file and `step` near 1 / rate:
  /// interpolated over four samples; silent where the file has none. Errors: cancelled, and the reader's.
  Done read(ClipTime from, double step_s, std::span<float> out);

 private:
  PartSound(const Part& part, int sample_rate_hz, media::SoundReader reader)
      : part_{part}, rate_hz_{sample_rate_hz}, reader_{std::move(reader)} {}
  Done have(ClipTime from, ClipTime to);
  Done take_block();
  double position(ClipTime t) const;
  float at(double position) const;

  Part part_;
  int rate_hz_;
  media::SoundReader reader_;
  std::optional<ClipTime> begin_{};  ///< of held_[0]
  std::vector<float> held_{};
  std::optional<ClipTime> silent_from_{};  ///< between this and begin_ the file has no sound
  bool at_end_ = false;
};

}  // namespace jigtime::film
