// Riveting bursts: short trains of even blows that begin and end.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "detect/background.h"
#include "detect/envelope.h"

namespace jigtime::detect {

/// One burst, or several with less than half a second between them.
struct Burst {
  double begin_s = 0;  ///< since the first frame
  double end_s = 0;
  int count = 1;  ///< pulls of the trigger
  double rate_hz = 0;
  double confidence = 0;  ///< that this is a burst of a rivet gun, by itself
};

/// A machine that runs (a compressor strokes as evenly as a rivet gun) is told apart in two ways: one pull of the
/// trigger lasts at most a few seconds and then the level falls (from memory: a rivet takes 1 to 3 s of gun time in
/// several bursts; taken here: at most 5 s for one), and a train that is there while nothing stands out is nobody's
/// burst when something else sounds over it.
class BurstFinder {
 public:
  BurstFinder();
  /// A burst is handed out about half a second after its end.
  std::optional<Burst> add(const Frame& frame);
  /// A burst still running when the sound ends.
  std::optional<Burst> finish();

 private:
  struct Run {
    std::int64_t begin = 0;  ///< frame
    std::int64_t end = 0;
    int hits = 0;
    double regularity = 0;  ///< sum over hits
    double contrast = 0;    ///< largest
    double contrasts = 0;   ///< sum over hits
    double rate_hz = 0;     ///< sum over hits
    int loud_hops = 0;      ///< in which the level was up
    float loudest_db = -200;
    float background_db = -200;  ///< when it began
    int pulls = 1;
    int low_hops = 0;  ///< latest hops in which the level lay far below the loudest
    std::int64_t pull_begin = 0;
    std::int64_t longest_pull = 0;
  };

  std::optional<Burst> hop();
  void hear_background();
  bool runs_in_background(double rate_hz) const;
  void remember_machine(double rate_hz);
  void extend(float level_db);
  void watch_level(float level_db);
  std::optional<Burst> close();

  std::vector<float> recent_;      ///< loudness of the latest window
  std::array<float, 3> middle_{};  ///< the latest frames, to smooth over
  std::array<float, 3> high_{};
  double sum_ = 0;
  std::array<double, 5> powers_{};  ///< of the latest hops: a window's worth
  std::int64_t frames_ = 0;
  Background background_{128};
  std::array<double, 24> machine_hz_{};  ///< rates heard while nothing stood out; 0: no train
  std::size_t next_machine_ = 0;
  std::optional<Run> run_;
  int idle_hops_ = 0;
};

}  // namespace jigtime::detect
