// What one camera's microphone hears of the story.
#pragma once

#include <cstdint>
#include <memory>
#include <span>

#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

/// Metres a second at 19 degrees: 331.3 * sqrt(1 + T / 273.15).
inline constexpr double speed_of_sound = 342.63;

/// Sound on its way from a place to a camera.
Seconds sound_path(const CameraPlan& camera, Point from);

/// Serves one recording from its beginning on; holds only the waveforms that sound at the moment.
class Microphone {
 public:
  /// `story` is used until the microphone's end.
  Microphone(const CameraPlan& camera, const Story& story, std::uint64_t seed);
  Microphone(Microphone&&) noexcept;
  Microphone& operator=(Microphone&&) noexcept;
  ~Microphone();

  /// Sample i of `out` is what arrives at scene time first + i * step. Calls go forward in time.
  void hear(Seconds first, Seconds step, std::span<float> out);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::demo
