#include "actions/viewer.h"

#include <algorithm>

namespace jigtime::actions {

struct Viewer::Impl {
  std::vector<film::Camera> cameras;
  Settings settings;
  SessionTime at{};
  double speed = 1;
  bool playing = false;
  std::optional<std::size_t> sound{};
};

Viewer::Viewer(std::vector<film::Camera> cameras, Settings settings)
    : impl_{std::make_unique<Impl>(Impl{std::move(cameras), std::move(settings)})} {}
Viewer::~Viewer() = default;
void Viewer::replace(std::vector<film::Camera> cameras) { impl_->cameras = std::move(cameras); }
void Viewer::set_most_width(int width) { impl_->settings.most_width = width; }
void Viewer::show(SessionTime t) { impl_->at = t; }
void Viewer::play(double speed) { impl_->playing = true, impl_->speed = speed; }
void Viewer::pause() { impl_->playing = false; }
bool Viewer::playing() const { return impl_->playing; }
double Viewer::speed() const { return impl_->speed; }
void Viewer::step(int) {}
void Viewer::choose_camera(std::size_t) {}
void Viewer::choose_sound(std::optional<std::size_t> camera) { impl_->sound = camera; }
std::optional<std::size_t> Viewer::chosen_sound() const { return impl_->sound; }
SessionTime Viewer::position() const { return impl_->at; }
std::optional<SessionRange> Viewer::extent() const { return film::extent(impl_->cameras); }
std::vector<CameraView> Viewer::latest() const { return std::vector<CameraView>(impl_->cameras.size()); }
Hearing Viewer::hearing() const { return Hearing::not_chosen; }
void Viewer::sound(std::span<float> out, Length) noexcept { std::fill(out.begin(), out.end(), 0.0F); }
std::vector<PlayCounts> Viewer::take_counts() { return std::vector<PlayCounts>(impl_->cameras.size()); }
std::vector<std::filesystem::path> Viewer::bad_copies() const { return {}; }

}  // namespace jigtime::actions
