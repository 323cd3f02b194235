// The stretch of the session that the day strip shows, and how it is moved and zoomed.
// Must never know: what is drawn in it, ImGui.
// Begin reading at: StripWindow.
#pragma once

#include "base/time.h"

namespace jigtime::app {

/// Time on one axis of pixels. Precondition of every call: length above zero, width at least 1.
struct StripWindow {
  SessionTime from{};
  Length length = std::chrono::minutes{1};
  double width_px = 1;

  SessionTime to() const { return from + length; }
  double x_of(SessionTime t) const;
  SessionTime time_at(double x) const;
  Length per_pixel() const { return from_seconds(to_seconds(length) / width_px); }
  friend bool operator==(const StripWindow&, const StripWindow&) = default;
};

/// Deepest zoom: a few pictures across the strip.
inline constexpr Length shortest_window = std::chrono::milliseconds{200};

/// `factor` below 1 shows less. The instant `about` stays where it is; never more than `whole` and a little, never less
/// than shortest_window, never beyond the ends of `whole`.
StripWindow zoomed(const StripWindow& window, double factor, SessionTime about, SessionRange whole);
/// Moved by a length, as far as `whole` lets it.
StripWindow panned(const StripWindow& window, Length by, SessionRange whole);
/// All of it, with a little room on either side.
StripWindow showing(SessionRange whole, double width_px);
/// Moved only as far as needed so that `t` lies inside, with a margin of a tenth.
StripWindow with_in_sight(const StripWindow& window, SessionTime t, SessionRange whole);

/// Distance of labelled ticks so that they are at least `least_px` apart: 40 ms, 0.2 s, 1 s, 5 s ... 1 h.
Length tick_for(const StripWindow& window, double least_px);
/// The first multiple of `tick` that is not before `from`.
SessionTime first_tick(SessionTime from, Length tick);

}  // namespace jigtime::app
