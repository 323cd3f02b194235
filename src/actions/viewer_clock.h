// The instant on show, as a clock that a sound device's clock can lead.
// One thread at a time starts and stops it; one other thread, a sound device's, corrects it; any thread reads it.
#pragma once

#include <array>
#include <atomic>
#include <chrono>
#include <cstdint>
#include <optional>

#include "base/time.h"

namespace jigtime::actions {

using Steady = std::chrono::steady_clock::time_point;
inline Steady steady_now() { return std::chrono::steady_clock::now(); }

class ViewerClock {
 public:
  /// What the clock says, taken at once and consistent in itself.
  struct Reading {
    std::uint16_t generation = 0;  ///< another one after every start and stop
    bool playing = false;
    double speed = 1;
    SessionTime from{};  ///< where it started or stands
    Steady started{};
    Length hold{0};                      ///< it stands so long before it goes on by itself
    std::optional<Length> correction{};  ///< session time, from the sound device; nothing until it has been heard

    SessionTime at(Steady now) const;
    /// The same without standing still before the start: may lie before `from`.
    SessionTime straight_at(Steady now) const;
  };

  void start(SessionTime from, double speed, Length hold, Steady now);
  void stop(SessionTime at);
  Reading read() const noexcept;
  SessionTime at(Steady now) const { return read().at(now); }

  /// From the sound device's thread only. Does nothing when the clock was started or stopped since the reading.
  void correct(const Reading& reading, Length correction) noexcept;

 private:
  void write(const Reading& reading);

  // A reader that met a writer reads again: readers never make anyone wait.
  std::atomic<std::uint32_t> version_{0};
  std::atomic<std::uint16_t> generation_{0};
  std::atomic<bool> playing_{false};
  std::atomic<double> speed_{1};
  std::atomic<std::int64_t> from_{0};
  std::atomic<std::int64_t> started_{0};
  std::atomic<std::int64_t> hold_{0};
  std::atomic<std::int64_t> correction_{0};  ///< nanoseconds above, the generation it is for in the low 16 bits
};

}  // namespace jigtime::actions
