#include "actions/viewer_clock.h"

#include <algorithm>

namespace jigtime::actions {
namespace {

constexpr int generation_bits = 16;

Length by(Length length, double speed) {
  return Length{static_cast<std::int64_t>(static_cast<double>(length.count()) * speed)};
}

}  // namespace

SessionTime ViewerClock::Reading::straight_at(Steady now) const {
  if (!playing) return from;
  return from + by(now - started - hold, speed) + correction.value_or(Length{0});
}

SessionTime ViewerClock::Reading::at(Steady now) const { return std::max(from, straight_at(now)); }

void ViewerClock::write(const Reading& reading) {
  version_.fetch_add(1, std::memory_order_acq_rel);
  generation_ = reading.generation;
  playing_ = reading.playing;
  speed_ = reading.speed;
  from_ = reading.from.time_since_epoch().count();
  started_ = reading.started.time_since_epoch().count();
  hold_ = reading.hold.count();
  version_.fetch_add(1, std::memory_order_acq_rel);
}

void ViewerClock::start(SessionTime from, double speed, Length hold, Steady now) {
  const auto generation = static_cast<std::uint16_t>(generation_ + 1);
  write({generation, true, speed, from, now, hold, {}});
}

void ViewerClock::stop(SessionTime at) {
  const auto generation = static_cast<std::uint16_t>(generation_ + 1);
  write({generation, false, speed_, at, {}, Length{0}, {}});
}

ViewerClock::Reading ViewerClock::read() const noexcept {
  Reading reading;
  while (true) {
    const std::uint32_t version = version_.load(std::memory_order_acquire);
    reading.generation = generation_;
    reading.playing = playing_;
    reading.speed = speed_;
    reading.from = SessionTime{Length{from_}};
    reading.started = Steady{Length{started_}};
    reading.hold = Length{hold_};
    const std::int64_t packed = correction_;
    if (version % 2 != 0 || version != version_.load(std::memory_order_acquire)) continue;
    const bool ours = static_cast<std::uint16_t>(packed) == reading.generation;
    reading.correction = ours ? std::optional{Length{packed >> generation_bits}} : std::nullopt;
    return reading;
  }
}

void ViewerClock::correct(const Reading& reading, Length correction) noexcept {
  // A generation that has passed meanwhile is not the reader's any more, so a late correction is harmless.
  correction_ = (correction.count() << generation_bits) | reading.generation;
}

}  // namespace jigtime::actions
