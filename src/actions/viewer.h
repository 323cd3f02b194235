// Shows the cameras of a session in step: pictures and sound of one instant, paused or playing.
// Must never know: windows, sound devices, the store.
// Begin reading at: Viewer.
//
// Threads. Every function returns at once; decoding happens on threads of its own, one a camera and one for the sound.
// One thread (the window's) calls everything but sound(); sound() may be called from one other thread, a sound
// device's.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "actions/session_cameras.h"
#include "base/picture.h"
#include "base/time.h"

namespace jigtime::actions {

enum class Sight {
  loading,     ///< the picture is being fetched; `picture` is the one shown before, if any
  picture,     ///< `picture` is on show at this instant
  off,         ///< the camera was not running: `off` says since when and until when
  sound_only,  ///< the clip has no pictures
  gone,        ///< its footage was given up; `words` say when and why
  unreadable,  ///< the footage cannot be read; `words` say why and what can be done
};

struct CameraView {
  Sight sight = Sight::loading;
  std::shared_ptr<const Picture> picture;  ///< a new one is a new address; never changes once given out
  SessionTime begins{};                    ///< when that picture begins to be shown
  film::Off off{};                         ///< only with Sight::off
  std::string words{};
};

/// What is heard, and if nothing is, why not.
enum class Hearing {
  heard,
  paused,
  not_chosen,  ///< no camera was chosen
  off,         ///< the chosen camera is off, its clip has no sound, or its footage cannot be read
  too_fast,    ///< sound is kept at its pitch from 0.25x to 2x; outside there is none
};

struct PlayCounts {
  std::int64_t due = 0;   ///< pictures whose beginning was passed while playing at 1x or slower
  std::int64_t late = 0;  ///< of those, not ready when it came
};

class Viewer {
 public:
  struct Settings {
    int sound_rate_hz = 48000;  ///< of the device that calls sound()
    int most_width = 640;       ///< of the pictures given out: scaled down, never up
    /// Called from any thread, after latest() has something new. Must return at once and call nothing of the Viewer;
    /// meant to wake the window. While playing() the window draws every frame without being told.
    std::function<void()> on_change;
  };

  /// Starts at the first instant of the footage, paused. Opens no file on the caller's thread.
  Viewer(std::vector<film::Camera> cameras, Settings settings);
  Viewer(const Viewer&) = delete;
  Viewer& operator=(const Viewer&) = delete;
  /// Asks all decoding to stop and waits for it (some milliseconds). No sound() may be under way any more.
  ~Viewer();

  /// The same cameras with other placements, files or copies. Keeps the position, and goes on playing.
  void replace(std::vector<film::Camera> cameras);
  void set_most_width(int width);

  /// Moves to `t`, clamped to the footage, playing or not. Only the last of several quick calls is fetched.
  void show(SessionTime t);
  /// 0.25 to 16, clamped. From the end it begins at the start. At the end of the footage it pauses by itself.
  void play(double speed = 1.0);
  void pause();
  bool playing() const;
  double speed() const;
  /// Pauses, and moves so many pictures of the chosen camera on (or back, when negative); where that camera is off, to
  /// the nearest picture it has in that direction. Steps add up. position() follows once the picture is found.
  void step(int pictures);
  /// Index into the cameras. Whose pictures step() counts; the first one unless told.
  void choose_camera(std::size_t camera);
  /// Whose microphone is heard; nothing for none. The first camera with sound unless told.
  void choose_sound(std::optional<std::size_t> camera);
  std::optional<std::size_t> chosen_sound() const;

  /// The instant on show. While sound is heard the sound device's clock leads: it is what is heard now. Never steps
  /// back while playing.
  SessionTime position() const;
  std::optional<SessionRange> extent() const;
  /// One view a camera, for position().
  std::vector<CameraView> latest() const;
  Hearing hearing() const;
  /// Fills `out` (mono, at sound_rate_hz) with what comes next, silence where there is nothing. `until_heard`: how long
  /// from now the first of these samples leaves the loudspeaker, as the device tells it. No locks, no allocation, no
  /// files: fit for a real-time thread.
  void sound(std::span<float> out, Length until_heard = Length{0}) noexcept;

  /// One a camera, since the viewer was made or the counts were taken last.
  std::vector<PlayCounts> take_counts();
  /// Review copies that turned out unreadable: the source stands in. Make them again.
  std::vector<std::filesystem::path> bad_copies() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::actions
