// Sound out through whatever the system has. No device is no error: the film then runs without sound.
// Begin reading at: SoundOut.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <span>
#include <thread>

#include "base/time.h"

namespace jigtime::app {

inline constexpr int sound_rate_hz = 48000;

class SoundOut {
 public:
  /// Fills samples on the device's own thread: must not wait. `until_heard`: when the first of them is heard, from now.
  using Source = std::function<void(std::span<float> samples, Length until_heard)>;

  SoundOut();
  SoundOut(const SoundOut&) = delete;
  SoundOut& operator=(const SoundOut&) = delete;
  ~SoundOut();

  /// Who is asked for samples from now on; nobody for an empty one. Once it returns the one before is asked no more:
  /// waits for a call under way, some milliseconds at the most.
  void set_source(Source source);
  /// Whether the device should run. Returns at once; a device that is not needed is let go after some seconds.
  void want(bool sound);
  /// A device was looked for and none is there, or it refused.
  bool no_device() const;

 private:
  struct Stream;
  void run(const std::stop_token& stop);
  static int fill(const void* in, void* out, unsigned long frames, const void* times, unsigned long flags, void* self);

  std::mutex source_guard_;
  Source source_;
  mutable std::mutex guard_;
  std::condition_variable_any changed_;
  bool wanted_ = false;
  bool no_device_ = false;
  std::jthread thread_;
};

}  // namespace jigtime::app
