// How a slow deed is watched and stopped.
#pragma once

#include <functional>
#include <stop_token>
#include <string_view>

namespace jigtime::actions {

struct Watch {
  std::stop_token stop;
  /// Fraction done, 0 to 1, and what is being done. May be empty; called from any thread, one call at a time.
  std::function<void(double fraction, std::string_view doing)> progress;
  int threads = 2;

  void tell(double fraction, std::string_view doing) const {
    if (progress) progress(fraction, doing);
  }
};

}  // namespace jigtime::actions
