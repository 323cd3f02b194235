// The film of the session at the bench: where it stands, how fast it runs, and the pictures of its cameras.
// Begin reading at: Playback.
#pragma once

#include <imgui.h>

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "actions/viewer.h"
#include "app/backroom/snapshot.h"
#include "app/sound_out.h"
#include "app/textures.h"
#include "app/view/moments.h"

namespace jigtime::app {

inline constexpr double slowest = 0.25;
inline constexpr double fastest = 16;
/// The next of 0.25, 0.5, 1, 2, 4, 8, 16.
double next_speed(double speed, int direction);

/// Used on the window's thread; never waits for footage. Where there is none, a clock runs all the same, so that work
/// without a camera can be tagged.
class Playback {
 public:
  /// `wake` is called from any thread when there is something new to draw.
  explicit Playback(std::function<void()> wake);
  ~Playback();
  Playback(const Playback&) = delete;
  Playback& operator=(const Playback&) = delete;

  /// The session's footage, or the same with other placements and copies; nothing for none. Keeps the position within a
  /// session.
  void load(const BenchView* bench);

  void show(SessionTime t);
  void play(double speed);
  void pause();
  bool playing() const;
  double speed() const { return speed_; }
  void step(int pictures);
  /// Whose microphone is heard: the next camera's, then nobody's.
  void next_sound();
  /// "bench", or that nothing is heard and why.
  std::string sound_words() const;
  /// Everything that sound_words can say of this session.
  std::vector<std::string> all_sound_words() const;
  SessionTime position() const;
  /// Standing still, with pictures of this moment still to come.
  bool fetching() const;
  /// Of all cameras since the last call: pictures that were due while playing, and those of them that were late.
  actions::PlayCounts take_counts();
  /// Pictures wider than this are not asked for.
  void set_most_width(float pixels);

  struct View {
    journal::CameraId camera;
    ImTextureID texture = nullptr;  ///< nothing: no picture, see words
    float width = 0;
    float height = 0;
    std::string words{};  ///< why there is no picture, or that it is being fetched
  };
  /// One a camera with footage, in step.
  std::vector<View> views();

 private:
  bool has_film() const { return viewer_ != nullptr && viewer_->extent().has_value(); }
  View view_of(std::size_t index, const actions::CameraView& camera);

  std::function<void()> wake_;
  journal::SessionId session_{};
  actions::SessionCameras cameras_;
  std::unique_ptr<actions::Viewer> viewer_;
  std::vector<Texture> textures_;
  SoundOut sound_;
  double speed_ = 1;
  int most_width_ = 640;
  // The clock that runs where there is no film.
  SessionTime at_{};
  bool clock_runs_ = false;
  std::chrono::steady_clock::time_point since_{};
  SessionTime last_{std::chrono::hours{24}};
};

}  // namespace jigtime::app
