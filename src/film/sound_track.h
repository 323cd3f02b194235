// What one camera's microphone heard, sample by sample on the session clock.
// Must never know: other cameras, speeds, sound devices.
// Begin reading at: SoundTrack.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <stop_token>
#include <string>

#include "base/result.h"
#include "film/cameras.h"

namespace jigtime::film {

/// Silent where the camera was off, its clip has no sound, or its footage cannot be read. One thread at a time.
class SoundTrack {
 public:
  /// `use_copies` as CameraReader::Settings.
  SoundTrack(Camera camera, int sample_rate_hz, bool use_copies, std::stop_token stop = {});
  SoundTrack(SoundTrack&&) noexcept;
  SoundTrack& operator=(SoundTrack&&) noexcept;
  ~SoundTrack();

  /// The next sample read is that of `t`; sample n after it lies at t + n / rate.
  void go_to(SessionTime t);
  /// Fills all of `out`. Errors: cancelled.
  Done read(std::span<float> out);
  SessionTime next_at() const;
  /// The last trouble met, a whole sentence; empty when there was none.
  const std::string& trouble() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// True where the camera ran at `t` with a microphone.
bool hears(const Camera& camera, SessionTime t);

}  // namespace jigtime::film
