#include "app/playback.h"

#include <algorithm>
#include <cmath>

#include "app/view/words.h"

namespace jigtime::app {

double next_speed(double speed, int direction) {
  return std::clamp(direction > 0 ? speed * 2 : speed / 2, slowest, fastest);
}

Playback::Playback(std::function<void()> wake) : wake_{std::move(wake)} {}

Playback::~Playback() { sound_.set_source({}); }

void Playback::load(const BenchView* bench) {
  if (bench == nullptr) {
    sound_.want(false);
    sound_.set_source({});
    viewer_.reset();
    textures_.clear();
    cameras_ = {};
    session_ = {};
    at_ = {};
    clock_runs_ = false;
    return;
  }
  const bool same = session_ == bench->record.session.id && viewer_ != nullptr;
  cameras_ = *bench->cameras;
  last_ = std::max(bench->rows.whole.end(), SessionTime{});
  textures_.resize(cameras_.cameras.size());
  if (same) return viewer_->replace(cameras_.cameras);
  session_ = bench->record.session.id;
  sound_.set_source({});
  textures_.clear();
  textures_.resize(cameras_.cameras.size());
  viewer_ =
      std::make_unique<actions::Viewer>(cameras_.cameras, actions::Viewer::Settings{sound_rate_hz, most_width_, wake_});
  at_ = {};
  clock_runs_ = false;
  sound_.set_source(
      [viewer = viewer_.get()](std::span<float> samples, Length until_heard) { viewer->sound(samples, until_heard); });
}

SessionTime Playback::position() const {
  if (has_film()) return viewer_->position();
  if (!clock_runs_) return at_;
  const Length run =
      from_seconds(std::chrono::duration<double>(std::chrono::steady_clock::now() - since_).count() * speed_);
  return std::min(at_ + run, last_);
}

bool Playback::playing() const { return has_film() ? viewer_->playing() : clock_runs_; }

bool Playback::fetching() const {
  if (!has_film() || viewer_->playing()) return false;
  const std::vector<actions::CameraView> latest = viewer_->latest();
  return std::any_of(latest.begin(), latest.end(),
                     [](const actions::CameraView& view) { return view.sight == actions::Sight::loading; });
}

void Playback::show(SessionTime t) {
  if (has_film()) return viewer_->show(t);
  at_ = std::clamp(t, SessionTime{}, last_);
  since_ = std::chrono::steady_clock::now();
}

void Playback::play(double speed) {
  speed_ = std::clamp(speed, slowest, fastest);
  if (has_film()) {
    sound_.want(true);
    return viewer_->play(speed_);
  }
  show(position());
  clock_runs_ = true;
}

void Playback::pause() {
  sound_.want(false);
  if (has_film()) return viewer_->pause();
  at_ = position();
  clock_runs_ = false;
}

void Playback::step(int pictures) {
  pause();
  if (has_film()) return viewer_->step(pictures);
  show(at_ + pictures * Length{std::chrono::milliseconds{40}});
}

void Playback::next_sound() {
  if (!viewer_ || cameras_.cameras.empty()) return;
  const auto now = viewer_->chosen_sound();
  const std::size_t next = now ? *now + 1 : 0;
  viewer_->choose_sound(next < cameras_.cameras.size() ? std::optional{next} : std::nullopt);
}

std::string Playback::sound_words() const {
  if (!viewer_ || !viewer_->chosen_sound() || *viewer_->chosen_sound() >= cameras_.cameras.size())
    return say(Word::no_sound);
  if (sound_.no_device()) return say(Word::no_sound_device);
  const std::string& name = cameras_.cameras[*viewer_->chosen_sound()].name;
  switch (viewer_->hearing()) {
    case actions::Hearing::off: return say(Word::sound_off_now, {name});
    case actions::Hearing::too_fast: return say(Word::sound_too_fast, {name});
    default: return name;
  }
}

std::vector<std::string> Playback::all_sound_words() const {
  std::vector<std::string> all{say(Word::no_sound), say(Word::no_sound_device)};
  for (const auto& camera : cameras_.cameras) {
    all.insert(all.end(),
               {camera.name, say(Word::sound_off_now, {camera.name}), say(Word::sound_too_fast, {camera.name})});
  }
  return all;
}

actions::PlayCounts Playback::take_counts() {
  actions::PlayCounts sum;
  if (!viewer_) return sum;
  for (const actions::PlayCounts& one : viewer_->take_counts()) {
    sum.due += one.due;
    sum.late += one.late;
  }
  return sum;
}

void Playback::set_most_width(float pixels) {
  // In steps, so that dragging the window's edge does not have every picture made anew.
  const int wanted = std::clamp(static_cast<int>(std::ceil(pixels / 160)) * 160, 320, 1920);
  if (wanted == most_width_) return;
  most_width_ = wanted;
  if (viewer_) viewer_->set_most_width(wanted);
}

Playback::View Playback::view_of(std::size_t index, const actions::CameraView& camera) {
  View view;
  view.camera = cameras_.ids[index];
  switch (camera.sight) {
    case actions::Sight::loading:
    case actions::Sight::picture: break;
    case actions::Sight::sound_only: view.words = say(Word::sound_only); return view;
    case actions::Sight::off: return view;
    case actions::Sight::gone:
    case actions::Sight::unreadable: view.words = camera.words; return view;
  }
  textures_[index].show(camera.picture);
  if (!camera.picture) return view;
  view.texture = textures_[index].id();
  view.width = textures_[index].width();
  view.height = textures_[index].height();
  return view;
}

std::vector<Playback::View> Playback::views() {
  std::vector<View> all;
  if (!has_film()) return all;
  if (!viewer_->playing()) sound_.want(false);  // it pauses by itself at the end
  const std::vector<actions::CameraView> latest = viewer_->latest();
  for (std::size_t i = 0; i < std::min(latest.size(), cameras_.ids.size()); ++i) all.push_back(view_of(i, latest[i]));
  return all;
}

}  // namespace jigtime::app
