#include "actions/viewer.h"

#include <algorithm>
#include <mutex>
#include <thread>
#include <utility>

#include "actions/viewer_camera.h"
#include "actions/viewer_clock.h"
#include "actions/viewer_sound.h"
#include "film/sound_track.h"
#include "film/tempo.h"

namespace jigtime::actions {
namespace {

constexpr double least_speed = 0.25;
constexpr double most_speed = 16;
// How long the pictures wait for the sound to begin; a device takes 20 to 100 ms, a cold file as much again.
constexpr Length wait_for_sound = std::chrono::milliseconds{300};

using Workers = std::vector<std::unique_ptr<ViewerCamera>>;

std::optional<std::size_t> first_with_sound(const std::vector<film::Camera>& cameras) {
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    for (const film::Clip& clip : cameras[i].clips) {
      if (clip.has_sound && clip.gone.empty() && !clip.pieces.empty()) return i;
    }
  }
  return std::nullopt;
}

}  // namespace

struct Viewer::Impl {
  Settings settings;
  ViewerClock clock{};
  // Guards what follows against a step that ends on a camera's thread.
  mutable std::mutex mutex{};
  std::vector<film::Camera> cameras{};
  std::optional<SessionRange> extent{};
  std::optional<std::size_t> sound_camera{};
  std::size_t step_camera = 0;
  double speed = 1;
  SessionTime last{};  ///< position given out last
  std::uint16_t last_generation = 0;
  Workers workers{};
  std::unique_ptr<ViewerSound> sound{};
  std::jthread reaper{};  ///< waits for workers that are not wanted any more

  SessionTime clamped(SessionTime t) const {
    return extent ? std::clamp(t, extent->begin(), extent->end() - Length{1}) : SessionTime{};
  }
  SessionTime position();
  bool sound_is_wanted(SessionTime t) const;
  void start(SessionTime t);
  void stop(SessionTime t);
  void pause_at(SessionTime t);
  void tell_workers();
  void make_workers(SessionTime at);
  void stepped(SessionTime to, std::uint16_t generation);
};

SessionTime Viewer::Impl::position() {
  const ViewerClock::Reading reading = clock.read();
  SessionTime t = clamped(reading.at(steady_now()));
  if (reading.generation == last_generation) t = std::max(t, last);
  last = t;
  last_generation = reading.generation;
  if (reading.playing && extent && t >= extent->end() - Length{1}) pause_at(t);
  return t;
}

bool Viewer::Impl::sound_is_wanted(SessionTime t) const {
  return sound_camera && speed >= film::least_tempo && speed <= film::most_tempo &&
         film::hears(cameras[*sound_camera], t);
}

void Viewer::Impl::start(SessionTime t) {
  const Steady begin = steady_now();
  const bool waits = sound->device_is_live(begin) && sound_is_wanted(t);
  clock.start(t, speed, waits ? wait_for_sound : Length{0}, begin);
  tell_workers();
}

void Viewer::Impl::stop(SessionTime t) {
  clock.stop(t);
  last_generation = clock.read().generation;
  last = t;
  tell_workers();
}

void Viewer::Impl::pause_at(SessionTime t) {
  stop(t);
  // Faster than filmed, pictures were left out: now exactly this one is wanted.
  if (speed <= 1) return;
  for (const auto& worker : workers) worker->seek(t);
}

void Viewer::Impl::tell_workers() {
  for (const auto& worker : workers) worker->wake();
  sound->wake();
}

void Viewer::Impl::make_workers(SessionTime at) {
  for (const film::Camera& camera : cameras) {
    const auto on_step = [this](SessionTime to, std::uint16_t generation) { stepped(to, generation); };
    workers.push_back(std::make_unique<ViewerCamera>(camera, settings.most_width, clock,
                                                     ViewerCamera::Calls{settings.on_change, on_step}));
    workers.back()->seek(at);
  }
}

void Viewer::Impl::stepped(SessionTime to, std::uint16_t generation) {
  {
    const std::lock_guard lock{mutex};
    // Shown or played something else meanwhile: the step was overtaken.
    if (clock.read().generation != generation) return;
    stop(clamped(to));
    for (const auto& worker : workers) worker->seek(last);
  }
  if (settings.on_change) settings.on_change();
}

Viewer::Viewer(std::vector<film::Camera> cameras, Settings settings)
    : impl_{new Impl{.settings = std::move(settings)}} {
  Impl& self = *impl_;
  self.cameras = std::move(cameras);
  self.extent = film::extent(self.cameras);
  self.sound = std::make_unique<ViewerSound>(self.clock, self.settings.sound_rate_hz);
  self.sound_camera = first_with_sound(self.cameras);
  if (self.sound_camera) self.sound->choose(self.cameras[*self.sound_camera]);
  const std::lock_guard lock{self.mutex};
  self.stop(self.clamped(SessionTime::min()));
  self.make_workers(self.last);
}

Viewer::~Viewer() {
  for (const auto& worker : impl_->workers) worker->request_stop();
  // Their threads may be about to report a step: they need the rest of this to do it.
  Workers ending;
  {
    const std::lock_guard lock{impl_->mutex};
    ending = std::move(impl_->workers);
    impl_->workers.clear();
  }
  ending.clear();
  if (impl_->reaper.joinable()) impl_->reaper.join();
  impl_->sound.reset();
}

void Viewer::replace(std::vector<film::Camera> cameras) {
  Impl& self = *impl_;
  Workers old;
  {
    const std::lock_guard lock{self.mutex};
    const SessionTime at = self.position();
    old = std::move(self.workers);
    self.workers.clear();
    self.cameras = std::move(cameras);
    self.extent = film::extent(self.cameras);
    if (self.step_camera >= self.cameras.size()) self.step_camera = 0;
    if (self.sound_camera && *self.sound_camera >= self.cameras.size()) self.sound_camera.reset();
    self.sound->choose(self.sound_camera ? std::optional{self.cameras[*self.sound_camera]} : std::nullopt);
    self.make_workers(self.clamped(at));
    self.clock.read().playing ? self.start(self.clamped(at)) : self.stop(self.clamped(at));
  }
  for (const auto& worker : old) worker->request_stop();
  std::jthread before = std::move(self.reaper);
  self.reaper = std::jthread{[waits = std::move(before), ends = std::move(old)]() mutable {
    ends.clear();
    if (waits.joinable()) waits.join();
  }};
}

void Viewer::set_most_width(int width) {
  const std::lock_guard lock{impl_->mutex};
  if (impl_->settings.most_width == width) return;
  impl_->settings.most_width = width;
  for (const auto& worker : impl_->workers) worker->set_most_width(width);
}

void Viewer::show(SessionTime t) {
  const std::lock_guard lock{impl_->mutex};
  const SessionTime to = impl_->clamped(t);
  impl_->clock.read().playing ? impl_->start(to) : impl_->stop(to);
  for (const auto& worker : impl_->workers) worker->seek(to);
}

void Viewer::play(double speed) {
  const std::lock_guard lock{impl_->mutex};
  if (!impl_->extent) return;
  SessionTime from = impl_->position();
  impl_->speed = std::clamp(speed, least_speed, most_speed);
  if (from >= impl_->extent->end() - Length{1}) {
    from = impl_->extent->begin();
    for (const auto& worker : impl_->workers) worker->seek(from);
  }
  impl_->start(from);
}

void Viewer::pause() {
  const std::lock_guard lock{impl_->mutex};
  if (!impl_->clock.read().playing) return;
  const SessionTime at = impl_->position();
  if (impl_->clock.read().playing) impl_->pause_at(at);
}

bool Viewer::playing() const {
  const std::lock_guard lock{impl_->mutex};
  impl_->position();
  return impl_->clock.read().playing;
}

double Viewer::speed() const {
  const std::lock_guard lock{impl_->mutex};
  return impl_->speed;
}

void Viewer::step(int pictures) {
  pause();
  const std::lock_guard lock{impl_->mutex};
  if (impl_->step_camera < impl_->workers.size()) impl_->workers[impl_->step_camera]->step(pictures);
}

void Viewer::choose_camera(std::size_t camera) {
  const std::lock_guard lock{impl_->mutex};
  if (camera < impl_->cameras.size()) impl_->step_camera = camera;
}

void Viewer::choose_sound(std::optional<std::size_t> camera) {
  const std::lock_guard lock{impl_->mutex};
  if (camera && *camera >= impl_->cameras.size()) camera.reset();
  if (camera == impl_->sound_camera) return;
  const SessionTime at = impl_->position();
  impl_->sound_camera = camera;
  impl_->sound->choose(camera ? std::optional{impl_->cameras[*camera]} : std::nullopt);
  // Started anew without a pause: what was made of the other microphone is not wanted any more.
  if (impl_->clock.read().playing) impl_->clock.start(at, impl_->speed, Length{0}, steady_now());
  impl_->tell_workers();
}

std::optional<std::size_t> Viewer::chosen_sound() const {
  const std::lock_guard lock{impl_->mutex};
  return impl_->sound_camera;
}

SessionTime Viewer::position() const {
  const std::lock_guard lock{impl_->mutex};
  return impl_->position();
}

std::optional<SessionRange> Viewer::extent() const {
  const std::lock_guard lock{impl_->mutex};
  return impl_->extent;
}

std::vector<CameraView> Viewer::latest() const {
  const std::lock_guard lock{impl_->mutex};
  const SessionTime at = impl_->position();
  std::vector<CameraView> views;
  views.reserve(impl_->workers.size());
  for (const auto& worker : impl_->workers) views.push_back(worker->view(at));
  return views;
}

Hearing Viewer::hearing() const {
  const std::lock_guard lock{impl_->mutex};
  if (!impl_->sound_camera) return Hearing::not_chosen;
  if (!impl_->clock.read().playing) return Hearing::paused;
  if (impl_->speed < film::least_tempo || impl_->speed > film::most_tempo) return Hearing::too_fast;
  const bool heard = film::hears(impl_->cameras[*impl_->sound_camera], impl_->position());
  return heard && !impl_->sound->in_trouble() ? Hearing::heard : Hearing::off;
}

void Viewer::sound(std::span<float> out, Length until_heard) noexcept { impl_->sound->fill(out, until_heard); }

std::vector<PlayCounts> Viewer::take_counts() {
  const std::lock_guard lock{impl_->mutex};
  std::vector<PlayCounts> counts;
  for (const auto& worker : impl_->workers) counts.push_back(worker->take_counts());
  return counts;
}

std::vector<std::filesystem::path> Viewer::bad_copies() const {
  const std::lock_guard lock{impl_->mutex};
  std::vector<std::filesystem::path> all;
  for (const auto& worker : impl_->workers) {
    for (std::filesystem::path& copy : worker->bad_copies()) all.push_back(std::move(copy));
  }
  return all;
}

}  // namespace jigtime::actions
