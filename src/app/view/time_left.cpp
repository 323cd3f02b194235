#include "app/view/time_left.h"

#include <algorithm>

#include "app/view/words.h"

namespace jigtime::app {

void TimeLeft::note(double fraction, Length since_start) {
  fraction_ = std::clamp(fraction, fraction_, 1.0);
  since_start_ = std::max(since_start, since_start_);
}

std::optional<Length> TimeLeft::left() const {
  if (fraction_ < 0.02 || since_start_ < std::chrono::seconds{5}) return std::nullopt;
  return from_seconds(to_seconds(since_start_) * (1 - fraction_) / fraction_);
}

std::string time_left_words(std::optional<Length> left) {
  if (!left) return {};
  const auto seconds = static_cast<std::int64_t>(to_seconds(*left));
  if (seconds < 10) return say(Word::left_moment);
  if (seconds < 60) return say(Word::left_seconds, {std::to_string((seconds + 9) / 10 * 10)});
  if (seconds < 3600) return say(Word::left_minutes, {std::to_string((seconds + 59) / 60)});
  return say(Word::left_hours, {std::to_string(seconds / 3600), std::to_string(seconds % 3600 / 60)});
}

}  // namespace jigtime::app
