#include "app/view/strip.h"

#include <algorithm>
#include <array>

namespace jigtime::app {
namespace {

/// Room on either side of the whole day.
Length room_beside(SessionRange whole) { return std::max(whole.length() / 50, Length{std::chrono::seconds{1}}); }

StripWindow held(StripWindow window, SessionRange whole) {
  const Length room = room_beside(whole);
  const Length most = whole.length() + 2 * room;
  window.length = std::clamp(window.length, std::min(shortest_window, most), most);
  window.from = std::min(window.from, whole.end() + room - window.length);
  window.from = std::max(window.from, whole.begin() - room);
  return window;
}

}  // namespace

double StripWindow::x_of(SessionTime t) const {
  return static_cast<double>((t - from).count()) / static_cast<double>(length.count()) * width_px;
}

SessionTime StripWindow::time_at(double x) const { return from + from_seconds(to_seconds(length) * x / width_px); }

StripWindow zoomed(const StripWindow& window, double factor, SessionTime about, SessionRange whole) {
  const Length room = room_beside(whole);
  const double most = to_seconds(whole.length() + 2 * room);
  const double wanted = std::clamp(to_seconds(window.length) * factor, to_seconds(shortest_window), most);
  StripWindow next = window;
  next.length = from_seconds(wanted);
  const double share = to_seconds(about - window.from) / to_seconds(window.length);
  next.from = about - from_seconds(wanted * share);
  return held(next, whole);
}

StripWindow panned(const StripWindow& window, Length by, SessionRange whole) {
  StripWindow next = window;
  next.from += by;
  return held(next, whole);
}

StripWindow showing(SessionRange whole, double width_px) {
  const Length room = room_beside(whole);
  return {whole.begin() - room, whole.length() + 2 * room, std::max(width_px, 1.0)};
}

StripWindow with_in_sight(const StripWindow& window, SessionTime t, SessionRange whole) {
  const Length margin = window.length / 10;
  StripWindow next = window;
  if (t < window.from + margin) next.from = t - margin;
  if (t > window.to() - margin) next.from = t + margin - window.length;
  return next == window ? window : held(next, whole);
}

Length tick_for(const StripWindow& window, double least_px) {
  using std::chrono::milliseconds;
  static constexpr std::array<int, 16> steps_ms{40,        200,       1'000,     2'000,    5'000,   10'000,
                                                15'000,    30'000,    60'000,    120'000,  300'000, 600'000,
                                                1'200'000, 1'800'000, 3'600'000, 7'200'000};
  for (const int step : steps_ms) {
    const double px = window.width_px * to_seconds(milliseconds{step}) / to_seconds(window.length);
    if (px >= least_px) return milliseconds{step};
  }
  return std::chrono::hours{6};
}

SessionTime first_tick(SessionTime from, Length tick) {
  const std::int64_t since = from.time_since_epoch().count();
  const std::int64_t step = tick.count();
  std::int64_t count = since / step;
  if (count * step < since) ++count;
  return SessionTime{Length{count * step}};
}

}  // namespace jigtime::app
