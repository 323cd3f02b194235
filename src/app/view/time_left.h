// How long a job will still take, told from how far it has come.
// Must never know: threads, the time of day.
#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "base/time.h"

namespace jigtime::app {

class TimeLeft {
 public:
  /// `fraction` of the whole is done `since_start` after it began. Times do not go back.
  void note(double fraction, Length since_start);
  /// Nothing until enough is known: five seconds and two hundredths of the whole.
  std::optional<Length> left() const;

 private:
  double fraction_ = 0;
  Length since_start_{0};
};

/// "about 3 min left", in steps that do not jitter; empty for nothing.
std::string time_left_words(std::optional<Length> left);

}  // namespace jigtime::app
