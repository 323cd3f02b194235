#include "actions/viewer_sound.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "film/sound_track.h"
#include "film/tempo.h"

namespace jigtime::actions {
namespace {

using std::chrono::milliseconds;

// A device that asked within this is running.
constexpr Length live_within = milliseconds{250};
// How often the decoding thread looks for room while playing; the ring holds many times as much.
constexpr Length look_every = milliseconds{10};
// Sound further off its time than this is moved there at once; what is nearer is what devices' callbacks jitter.
constexpr Length most_off = milliseconds{30};
// Share of the difference by which the clock follows the device at every call.
constexpr int follow = 16;
// Sound that begins while playing is made for a little later than now, so that it is ready in time.
constexpr Length lead = milliseconds{60};

double in_samples(Length session, const SoundPacket& packet) {
  return static_cast<double>(session.count()) / packet.step_ns;
}

}  // namespace

/// What the decoding thread is at.
struct ViewerSound::Production {
  std::uint64_t choice = 0;
  std::optional<film::SoundTrack> track{};
  std::uint16_t generation = 0;
  std::optional<film::Tempo> tempo{};
  SessionTime origin{};
  double step_ns = 0;
  std::int64_t made = 0;
};

ViewerSound::ViewerSound(ViewerClock& clock, int sample_rate_hz)
    : clock_{clock}, rate_hz_{sample_rate_hz}, thread_{[this](const std::stop_token& stop) { run(stop); }} {}

ViewerSound::~ViewerSound() {
  thread_.request_stop();
  changed_.notify_all();
}

void ViewerSound::choose(std::optional<film::Camera> camera) {
  {
    const std::lock_guard lock{mutex_};
    wish_ = {wish_.choice + 1, std::move(camera)};
    woken_ = true;
  }
  trouble_ = false;
  changed_.notify_all();
}

void ViewerSound::wake() {
  {
    const std::lock_guard lock{mutex_};
    woken_ = true;
  }
  changed_.notify_all();
}

bool ViewerSound::device_is_live(Steady now) const {
  return now - Steady{Length{asked_at_}} < live_within && asked_at_ != 0;
}

bool ViewerSound::wanted(const ViewerClock::Reading& reading, const Wish& wish) const {
  return reading.playing && wish.camera && reading.speed >= film::least_tempo && reading.speed <= film::most_tempo;
}

void ViewerSound::run(const std::stop_token& stop) {
  Production production;
  Wish wish;
  while (!stop.stop_requested()) {
    {
      std::unique_lock lock{mutex_};
      if (wish.choice != wish_.choice) wish = wish_;
      woken_ = false;
    }
    const ViewerClock::Reading reading = clock_.read();
    const bool busy = wanted(reading, wish);
    if (busy && production.choice != wish.choice) {
      production.track.emplace(*wish.camera, rate_hz_, true, stop);
      production.choice = wish.choice;
      production.generation = 0;
    }
    if (busy && production.generation != reading.generation) {
      const auto now = std::chrono::steady_clock::now();
      const bool begins = now - reading.started <= reading.hold;
      production.generation = reading.generation;
      production.origin = begins ? reading.from : reading.at(now + lead);
      production.step_ns = reading.speed * 1e9 / rate_hz_;
      production.made = 0;
      production.tempo.emplace(rate_hz_, reading.speed);
      production.track->go_to(production.origin);
    }
    while (busy && !stop.stop_requested() && clock_.read().generation == production.generation) {
      SoundPacket* packet = ring_.room();
      if (packet == nullptr) break;
      produce(production, *packet);
      ring_.written();
    }
    std::unique_lock lock{mutex_};
    if (busy) {
      changed_.wait_for(lock, stop, look_every, [this] { return woken_; });
    } else {
      changed_.wait(lock, stop, [this] { return woken_; });
    }
  }
}

void ViewerSound::produce(Production& production, SoundPacket& packet) {
  packet.generation = production.generation;
  packet.start =
      production.origin +
      Length{static_cast<std::int64_t>(std::llround(static_cast<double>(production.made) * production.step_ns))};
  packet.step_ns = production.step_ns;
  packet.count = 0;
  std::array<float, 1024> fresh{};
  while (packet.count < packet.samples.size()) {
    const std::size_t taken = production.tempo->take(std::span{packet.samples}.subspan(packet.count));
    packet.count += taken;
    if (taken > 0) continue;
    if (const Done read = production.track->read(fresh); !read) break;  // only when the thread is to end
    production.tempo->put(fresh);
  }
  production.made += static_cast<std::int64_t>(packet.count);
  trouble_ = !production.track->trouble().empty();
}

void ViewerSound::drop_unwanted(const ViewerClock::Reading& reading) noexcept {
  for (const SoundPacket* packet = ring_.front(); packet != nullptr; packet = ring_.front()) {
    const bool ours = reading.playing && packet->generation == reading.generation;
    if (ours && used_ < packet->count) return;
    ring_.pop();
    used_ = 0;
  }
}

std::size_t ViewerSound::give(const ViewerClock::Reading& reading, const SoundPacket& packet, std::span<float> out,
                              Steady heard) noexcept {
  const SessionTime start =
      packet.start + Length{static_cast<std::int64_t>(static_cast<double>(used_) * packet.step_ns)};
  Length off = start - reading.straight_at(heard);
  if (!reading.correction && reading.hold > Length{0} && heard - reading.started <= reading.hold + most_off) {
    // The first sound since the start: the clock stood still for it, and goes on with it.
    clock_.correct(reading, off);
    off = Length{0};
  }
  const double samples_off = in_samples(off, packet);
  const double most_samples_off = to_seconds(most_off) * rate_hz_;
  if (samples_off > most_samples_off) {
    const auto silent = std::min(out.size(), static_cast<std::size_t>(samples_off));
    std::fill_n(out.begin(), silent, 0.0F);
    return silent;
  }
  if (samples_off < -most_samples_off) {
    used_ = std::min(packet.count, used_ + static_cast<std::size_t>(-samples_off));
    return 0;
  }
  const std::size_t count = std::min(out.size(), packet.count - used_);
  std::copy_n(packet.samples.begin() + static_cast<std::ptrdiff_t>(used_), count, out.begin());
  used_ += count;
  return count;
}

void ViewerSound::fill(std::span<float> out, Length until_heard) noexcept {
  const Steady now = std::chrono::steady_clock::now();
  asked_at_ = now.time_since_epoch().count();
  std::size_t filled = 0;
  bool followed = false;
  while (filled < out.size()) {
    const ViewerClock::Reading reading = clock_.read();
    drop_unwanted(reading);
    const SoundPacket* packet = ring_.front();
    if (packet == nullptr) break;
    const Steady heard =
        now + until_heard + Length{static_cast<std::int64_t>(static_cast<double>(filled) * 1e9 / rate_hz_)};
    const std::size_t used_before = used_;
    const SessionTime start =
        packet->start + Length{static_cast<std::int64_t>(static_cast<double>(used_before) * packet->step_ns)};
    const std::size_t given = give(reading, *packet, out.subspan(filled), heard);
    const bool sounded = given > 0 && used_ > used_before;
    // Towards where the device is; a little at every call, so that a call that came late moves nothing much.
    const bool standing_still = !reading.correction && heard - reading.started <= reading.hold + most_off;
    if (sounded && !followed && (!standing_still || reading.hold == Length{0})) {
      const Length off = start - reading.straight_at(heard);
      clock_.correct(reading, reading.correction.value_or(Length{0}) + off / follow);
    }
    followed = followed || sounded;
    filled += given;
  }
  std::fill(out.begin() + static_cast<std::ptrdiff_t>(filled), out.end(), 0.0F);
}

}  // namespace jigtime::actions
