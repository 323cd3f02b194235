// Where a few seconds of one clip are heard in another, by the sound itself and not by what was made of it.
// Must never know: more than two clips.
//
// The coarse search compares rises of loudness, which noise ten times as strong as the work hides. The phase transform
// of the samples (see lag_map) still stands out then, but has to be asked at every lag: some hundred times the work for
// each second. So only few windows are looked for, and only for clips of which nothing else is known.
#pragma once

#include <span>
#include <stop_token>
#include <vector>

#include "signal/fft.h"
#include "sync/block_search.h"
#include "sync/hearable.h"
#include "sync/line.h"

namespace jigtime::sync {

/// One object for each thread.
class CloseSearch {
 public:
  static constexpr double window_seconds = 2;  ///< in which 200 ppm move nothing by more than a few samples

  /// What is compared. Onsets stand out of noise and echoes, but music is more than its drums.
  enum class Sound { onsets, as_it_is };

  CloseSearch();
  /// Looks for windows of a around `places` (clip seconds of a) at every lag at which they lie `within` b. The highest
  /// lags for each window, highest first, at least half a second apart; none for one that is silent. A vote's z is the
  /// height of the correlation over its noise there, sign aside. When stopped, what was found so far.
  std::vector<std::vector<Vote>> search(const Hearable& a, const Hearable& b, const Extent& within,
                                        std::span<const double> places, int votes, const std::stop_token& stop,
                                        Sound sound = Sound::onsets);
  /// At which lags a window is looked for.
  struct Near {
    Line line;
    double reach = 0;  ///< seconds from it; of less than half a window's length none is looked for
    Extent within;     ///< seconds of b that count
  };
  /// The same, each window by its onsets and at no more lags than those; none for one that has hardly any.
  std::vector<std::vector<Vote>> search_near(const Hearable& a, const Hearable& b, const Near& near,
                                             std::span<const double> places, int votes, const std::stop_token& stop);

 private:
  /// A window and the seconds of b that it is looked for in.
  struct Wanted {
    double place = 0;
    Extent within;
  };
  struct Window {
    std::int64_t first = 0;           // sample of a
    std::int64_t begin = 0, end = 0;  // samples of b at which it may begin
    signal::Spectrum spectrum;
  };
  std::vector<std::vector<Vote>> search_each(const Hearable& a, const Hearable& b, std::span<const Wanted> wanted,
                                             int votes, const std::stop_token& stop, Sound sound);
  bool transform_of(const Hearing& hearing, std::int64_t first, std::size_t samples, Sound sound,
                    signal::Spectrum& spectrum);
  void correlate(const Window& window);
  void add_peaks(std::span<const float> lags, std::size_t from, std::size_t to, const Vote& first,
                 std::vector<Vote>& votes);

  signal::RealFft fft_;
  std::vector<float> taper_;
  std::vector<float> raw_;
  signal::Samples samples_;
  signal::Spectrum segment_, product_;
  std::vector<float> scratch_;
};

/// Middles of the windows of a clip in which blows stand out most, in order, none over another; at most `count`, all
/// of them `within` these clip seconds; no other sound is read.
std::vector<double> windows_to_look_for(const Hearable& clip, int count, const Extent& within);

}  // namespace jigtime::sync
