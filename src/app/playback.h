// The film of the session at the bench: where it stands, how fast it runs, and the pictures of its cameras.
// Begin reading at: Playback.
#pragma once

#include <imgui.h>

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/view/moments.h"
#include "app/work/snapshot.h"

namespace jigtime::app {

inline constexpr double slowest = 0.25;
inline constexpr double fastest = 16;
/// The next of 0.25, 0.5, 1, 2, 4, 8, 16.
double next_speed(double speed, int direction);

/// Used on the window's thread; never waits.
class Playback {
 public:
  explicit Playback(std::function<void()> wake);
  ~Playback();
  Playback(const Playback&) = delete;
  Playback& operator=(const Playback&) = delete;

  /// The session's footage, or the same with other placements; nothing for none. Keeps the position within a session.
  void load(const BenchView* bench, const journal::Register& known);

  void show(SessionTime t);
  void play(double speed);
  void pause();
  bool playing() const { return playing_; }
  double speed() const { return speed_; }
  void step(int pictures);
  /// Whose microphone is heard: the next camera's, then nobody's.
  void next_sound();
  /// "bench", or that nothing is heard and why.
  std::string sound_words() const;
  SessionTime position() const;

  struct View {
    journal::CameraId camera;
    ImTextureID texture = nullptr;  ///< nothing: no picture, see words
    float width = 0;
    float height = 0;
    std::string words{};  ///< why there is no picture, or that it is being fetched
  };
  /// One a camera that has pictures to show or something to say; empty while no footage is loaded.
  std::vector<View> views();

 private:
  std::function<void()> wake_;
  SessionTime at_{};
  bool playing_ = false;
  double speed_ = 1;
  std::chrono::steady_clock::time_point since_{};
  SessionRange whole_ = *SessionRange::make(SessionTime{}, SessionTime{std::chrono::minutes{1}});
};

}  // namespace jigtime::app
