// How quickly the window answers, told on the error output when JIGTIME_TIMES is set: for tests/bench/window_times.py.
// Nothing else depends on it. Must never know: the model.
// Begin reading at: Times.
#pragma once

#include <chrono>
#include <optional>

#include "actions/viewer.h"

namespace jigtime::app {

class Times {
 public:
  explicit Times(std::chrono::steady_clock::time_point started);

  /// Enter was pressed: it may lead to other pictures.
  void entered();
  /// Whether anybody asked: what it takes to call shown() need not be found out else.
  bool wanted() const { return wanted_; }
  /// A frame has been shown, and with it the bench and all pictures of its moment, or not.
  void shown(bool all_pictures);
  /// The window closes.
  void closing(const actions::PlayCounts& counts) const;

 private:
  using Clock = std::chrono::steady_clock;

  bool wanted_;
  Clock::time_point started_;
  bool first_ = true;
  std::optional<Clock::time_point> entered_;
};

}  // namespace jigtime::app
