#include "detect/pause_finder.h"

#include <algorithm>
#include <cmath>

namespace jigtime::detect {
namespace {

// Long enough to hold several strokes of a machine, so that their number does not show as a jump.
constexpr std::int64_t hop_frames = 200;
constexpr float lively_db = 6;
constexpr std::size_t forgiven_in_a_minute = 2;

}  // namespace

std::optional<Pause> PauseFinder::add(const Frame& frame) {
  sum_ += frame.power();
  heard_ = heard_ || frame.heard;
  ++frames_;
  if (frames_ % hop_frames == 0) {
    const auto level_db = static_cast<float>(10 * std::log10(sum_ / hop_frames + 1e-12));
    sum_ = 0;
    if (frames_ > frames_per_second) highest_above_db_ = std::max(highest_above_db_, level_db - background_.level_db());
    background_.add(level_db);
  }
  if (frames_ % frames_per_second != 0) return std::nullopt;
  return end_of_second();
}

std::optional<Pause> PauseFinder::end_of_second() {
  const double second_s = now_s() - 1;
  const bool lively = highest_above_db_ > lively_db;
  const bool heard = heard_;
  highest_above_db_ = 0;
  heard_ = false;
  while (!lively_.empty() && lively_.front() < second_s - 60) lively_.pop_front();
  if (!heard) return close(second_s);
  if (!lively) {
    if (!begin_s_) {
      begin_s_ = second_s;
      forgiven_ = 0;
    }
    return std::nullopt;
  }
  lively_.push_back(second_s);
  if (lively_.size() <= forgiven_in_a_minute) {
    ++forgiven_;
    return std::nullopt;
  }
  // The stretch ended where this liveliness began; a new one cannot begin before it is over.
  return close(lively_.front());
}

std::optional<Pause> PauseFinder::work(double begin_s) { return close(begin_s); }

std::optional<Pause> PauseFinder::close(double end_s) {
  if (!begin_s_) return std::nullopt;
  const double begin_s = *begin_s_;
  begin_s_.reset();
  const double length_s = end_s - begin_s;
  if (length_s < shortest_pause_s) return std::nullopt;
  const double disturbed_per_minute = 60 * forgiven_ / length_s;
  const double confidence =
      0.45 + 0.35 * std::min(1.0, (length_s - shortest_pause_s) / 900) - 0.2 * std::min(1.0, disturbed_per_minute);
  return Pause{begin_s, end_s, confidence};
}

std::optional<Pause> PauseFinder::finish() { return close(now_s()); }

}  // namespace jigtime::detect
