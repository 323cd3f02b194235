// The sound of a Viewer: decodes ahead on a thread of its own, and hands it to the sound device's thread on time.
#pragma once

#include <condition_variable>
#include <mutex>
#include <optional>
#include <span>
#include <thread>

#include "actions/viewer_clock.h"
#include "actions/viewer_ring.h"
#include "film/cameras.h"

namespace jigtime::actions {

class ViewerSound {
 public:
  ViewerSound(ViewerClock& clock, int sample_rate_hz);
  ViewerSound(const ViewerSound&) = delete;
  ViewerSound& operator=(const ViewerSound&) = delete;
  ~ViewerSound();

  /// The microphone to hear from now on; nothing for none. The clock must be started anew afterwards.
  void choose(std::optional<film::Camera> camera);
  /// The clock was started or stopped.
  void wake();
  /// A sound device has asked for sound lately, so that it is worth waiting for it.
  bool device_is_live(Steady now) const;
  /// The chosen camera's sound could not be read when it was tried last.
  bool in_trouble() const { return trouble_; }

  /// As Viewer::sound.
  void fill(std::span<float> out, Length until_heard) noexcept;

 private:
  struct Wish {
    std::uint64_t choice = 0;
    std::optional<film::Camera> camera{};
  };
  struct Production;
  void run(const std::stop_token& stop);
  bool wanted(const ViewerClock::Reading& reading, const Wish& wish) const;
  void produce(Production& production, SoundPacket& packet);

  // On the device's thread.
  void drop_unwanted(const ViewerClock::Reading& reading) noexcept;
  std::size_t give(const ViewerClock::Reading& reading, const SoundPacket& packet, std::span<float> out,
                   Steady heard) noexcept;

  ViewerClock& clock_;
  const int rate_hz_;
  SoundRing ring_;
  std::size_t used_ = 0;  ///< samples of the front packet that are gone; the device's thread only
  std::atomic<std::int64_t> asked_at_{0};
  std::atomic<bool> trouble_{false};

  std::mutex mutex_;
  std::condition_variable_any changed_;
  Wish wish_;
  bool woken_ = false;
  std::jthread thread_;
};

}  // namespace jigtime::actions
