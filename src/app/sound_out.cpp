#include "app/sound_out.h"

#include <fcntl.h>
#include <portaudio.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <optional>

namespace jigtime::app {
namespace {

/// A device that starts anew takes a moment: it runs on for a while after the film has stopped.
constexpr std::chrono::seconds runs_on{4};

/// The sound system's libraries write to the terminal about every device that is not there; nobody needs that.
class Hushed {
 public:
  Hushed() : kept_{::dup(2)} {
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0 && kept_ >= 0) ::dup2(nowhere, 2);
    if (nowhere >= 0) ::close(nowhere);
  }
  Hushed(const Hushed&) = delete;
  Hushed& operator=(const Hushed&) = delete;
  ~Hushed() {
    if (kept_ < 0) return;
    ::dup2(kept_, 2);
    ::close(kept_);
  }

 private:
  int kept_;
};

}  // namespace

/// The library and one open stream; the thread of SoundOut alone uses it.
struct SoundOut::Stream {
  bool library = false;
  PaStream* stream = nullptr;
  bool running = false;

  bool start(SoundOut* self) {
    const Hushed hushed;
    if (!library) library = Pa_Initialize() == paNoError;
    if (!library) return false;
    if (stream == nullptr) {
      const auto fill = reinterpret_cast<PaStreamCallback*>(&SoundOut::fill);
      if (Pa_OpenDefaultStream(&stream, 0, 1, paFloat32, sound_rate_hz, paFramesPerBufferUnspecified, fill, self) !=
          paNoError) {
        stream = nullptr;
        return false;
      }
    }
    if (!running) running = Pa_StartStream(stream) == paNoError;
    return running;
  }

  void stop() {
    if (running) Pa_StopStream(stream);
    running = false;
  }

  Stream() = default;
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;
  ~Stream() {
    stop();
    if (stream != nullptr) Pa_CloseStream(stream);
    if (library) Pa_Terminate();
  }
};

SoundOut::SoundOut() : thread_{[this](const std::stop_token& stop) { run(stop); }} {}

SoundOut::~SoundOut() = default;

void SoundOut::set_source(Source source) {
  const std::lock_guard lock{source_guard_};
  source_ = std::move(source);
}

void SoundOut::want(bool sound) {
  {
    const std::lock_guard lock{guard_};
    if (wanted_ == sound) return;
    wanted_ = sound;
  }
  changed_.notify_one();
}

bool SoundOut::no_device() const {
  const std::lock_guard lock{guard_};
  return no_device_;
}

void SoundOut::run(const std::stop_token& stop) {
  Stream device;
  std::unique_lock lock{guard_};
  while (!stop.stop_requested()) {
    changed_.wait(lock, stop, [this] { return wanted_; });
    if (stop.stop_requested()) break;
    lock.unlock();
    const bool runs = device.start(this);
    lock.lock();
    no_device_ = !runs;
    do {
      changed_.wait(lock, stop, [this] { return !wanted_; });
    } while (!stop.stop_requested() && changed_.wait_for(lock, stop, runs_on, [this] { return wanted_; }));
    lock.unlock();
    device.stop();
    lock.lock();
  }
}

int SoundOut::fill(const void*, void* out, unsigned long frames, const void* times, unsigned long, void* self) {
  auto& sound = *static_cast<SoundOut*>(self);
  const std::span<float> samples{static_cast<float*>(out), frames};
  const auto& when = *static_cast<const PaStreamCallbackTimeInfo*>(times);
  const std::unique_lock lock{sound.source_guard_, std::try_to_lock};
  if (!lock || !sound.source_) {
    std::fill(samples.begin(), samples.end(), 0.0F);
    return paContinue;
  }
  sound.source_(samples, from_seconds(std::clamp(when.outputBufferDacTime - when.currentTime, 0.0, 2.0)));
  return paContinue;
}

}  // namespace jigtime::app
