// Lags of a few seconds of sound, to a fraction of a sample.
// Must never know: candidates, more than two clips.
// Begin reading at: FineMatcher::match.
#pragma once

#include <atomic>
#include <mutex>
#include <optional>

#include "signal/correlate.h"
#include "sync/features.h"
#include "sync/line.h"
#include "sync/line_up.h"

namespace jigtime::sync {

/// A clip's samples for reading from several threads. The first failure is kept; from then on there is only silence.
class Hearing {
 public:
  explicit Hearing(const Sound* sound) : sound_{sound} {}
  bool there() const { return sound_ != nullptr && !failed_; }
  double origin() const { return to_seconds(sound_->origin()); }
  double end() const { return origin() + static_cast<double>(sound_->count()) / sample_rate_hz; }
  /// Samples from `first` on; what is no number becomes zero.
  void read(std::int64_t first, std::span<float> out) const;
  std::optional<Error> failure() const;

 private:
  const Sound* sound_;
  mutable std::atomic<bool> failed_ = false;
  mutable std::mutex guard_;
  mutable std::optional<Error> failure_;
};

/// Turns down what is no onset: the direct sound comes first, echoes follow while the level falls. Without it, echoes
/// that both microphones hear strongly outdo the direct sound of a far source.
void favour_onsets(std::span<float> samples);

/// Ones that rise from zero and fall to it over a sixteenth at either end, as a raised cosine.
std::vector<float> tapered(int samples);

/// Whitened cross-correlation of equally long windows. One object for each thread.
class FineMatcher {
 public:
  /// `samples` even; lags within `reach` seconds of the line, at most a quarter of the window.
  FineMatcher(int samples, double reach);
  FineMatcher(FineMatcher&&) = default;
  double length() const { return static_cast<double>(correlator_.size()) / sample_rate_hz; }
  double reach() const { return reach_; }
  /// Compares a around clip time `at` with b where the line says it is; the line's slope is followed inside the window.
  /// Gives a's clip time in the very middle of the window; what was found is in lags().
  double match(const Hearing& a, const Hearing& b, double at, const Line& line);
  /// All lags of the window last matched, in steps of a sample, the middle one at middle_lag(); until the next match.
  std::span<const float> lags() const { return lags_; }
  double middle_lag() const { return middle_lag_; }

 private:
  signal::WhitenedCorrelator correlator_;
  double reach_;
  std::vector<float> taper_;
  std::vector<float> raw_a_, raw_b_;
  signal::Samples a_, b_;
  std::span<const float> lags_;  ///< the correlator's
  double middle_lag_ = 0;
};

struct Places {
  double from = 0;  ///< a's clip time
  double to = 0;
  double seconds = 0;  ///< length of a window
  double apart = 0;    ///< seconds from one stretch to the next of which the most eventful place is taken
  int count = 0;       ///< at most: then the most eventful of all
};
/// Middles of windows at the most eventful places, as both clips hear it, in order.
std::vector<double> eventful_places(const Frames& a, const Frames& b, const Line& line, const Places& wanted);

}  // namespace jigtime::sync
