#include "app/playback.h"

#include <algorithm>

#include "app/view/words.h"

namespace jigtime::app {

double next_speed(double speed, int direction) {
  return std::clamp(direction > 0 ? speed * 2 : speed / 2, slowest, fastest);
}

Playback::Playback(std::function<void()> wake) : wake_{std::move(wake)} {}
Playback::~Playback() = default;

void Playback::load(const BenchView* bench, const journal::Register&) {
  if (bench != nullptr) whole_ = bench->rows.whole;
}

SessionTime Playback::position() const {
  if (!playing_) return at_;
  const Length run = from_seconds(std::chrono::duration<double>(std::chrono::steady_clock::now() - since_).count() * speed_);
  return std::min(at_ + run, whole_.end());
}

void Playback::show(SessionTime t) {
  at_ = std::clamp(t, whole_.begin(), whole_.end());
  since_ = std::chrono::steady_clock::now();
}

void Playback::play(double speed) {
  show(position());
  speed_ = std::clamp(speed, slowest, fastest);
  playing_ = true;
}

void Playback::pause() {
  at_ = position();
  playing_ = false;
}

void Playback::step(int pictures) {
  pause();
  show(at_ + pictures * Length{std::chrono::milliseconds{40}});
}

void Playback::next_sound() {}
std::string Playback::sound_words() const { return say(Word::no_sound); }

std::vector<Playback::View> Playback::views() { return {}; }

}  // namespace jigtime::app
