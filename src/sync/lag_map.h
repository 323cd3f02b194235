// How well each lag near a line is borne out, window by window, and the lines that most of them bear out together.
// Must never know: samples, which clips.
// Begin reading at: LagMap::add, then sharp_line and blurred_line.
//
// One window of a few seconds often shows the true lag no higher than the luck of thousands of others. Many windows
// summed along a line do: what is luck averages out. The sum is taken twice. Sharp: of the correlation itself, to a
// sample, for sound whose ways to the two microphones do not differ. Blurred: of how much goes on within some
// milliseconds, for sound from all over a shop, whose lags differ from window to window. Either is judged against the
// same sums along lines too far away to be true, so that nothing is assumed about what luck looks like: a compressor
// or steady hammering raises those as well.
#pragma once

#include <span>
#include <vector>

#include "sync/line.h"

namespace jigtime::sync {

/// Of a window's highest sample over its noise: luck among some hundred lags gives less.
inline constexpr double clear_peak = 4.7;

class LagMap {
 public:
  static constexpr double cell_seconds = 0.001;
  static constexpr double sharp_reach = 0.25;  ///< seconds around the base line for which single samples are kept
  static constexpr double most = 8;            ///< of a single correlation over its noise: no one window decides

  /// `reach` seconds around the base line are kept in cells.
  LagMap(const Line& base, double reach);

  /// A window in the middle of which a's clip time is `at`; `lags` in steps of one sample around middle_lag, at least
  /// `reach` to either side. Windows come in order of time; one in which nothing was heard is left out.
  void add(double at, std::span<const float> lags, double middle_lag);

  /// Some of its windows, by rising number, with cells alone: for blurred_line.
  LagMap of(std::span<const int> windows) const;

  int windows() const { return static_cast<int>(windows_.size()); }
  double time(int window) const { return windows_[static_cast<std::size_t>(window)].at; }
  const Line& base() const { return base_; }
  double reach() const { return reach_; }

  /// Correlation over its noise, brought down so that the highest is not above `most`, by sample; the middle one lies
  /// at base + middle(window).
  std::span<const float> samples(int window) const { return windows_[static_cast<std::size_t>(window)].samples; }
  double middle(int window) const { return windows_[static_cast<std::size_t>(window)].middle; }
  /// How much goes on around each cell, over what is usual in this window; the middle cell lies on the base line.
  std::span<const float> cells(int window) const { return windows_[static_cast<std::size_t>(window)].cells; }

  /// The highest sample within `nearest` seconds of a lag, over its noise, sign aside; nothing outside sharp_reach.
  LagPeak highest(int window, double lag, double nearest) const;

 private:
  struct Row {
    double at = 0;
    double middle = 0;
    double limit = 1;
    std::vector<float> samples;
    std::vector<float> cells;
  };
  Line base_;
  double reach_;
  int half_samples_;
  int half_cells_;
  std::vector<Row> windows_;
  std::vector<float> scaled_, scratch_;  ///< of the window last added
};

/// Windows [first, last] of a map.
struct Stretch {
  int first = 0;
  int last = -1;
  int count() const { return last - first + 1; }
};

/// A line with what speaks for it.
struct Backing {
  Line line;
  double z = 0;        ///< the sum over the windows against its spread along lines that cannot be true
  double rival_z = 0;  ///< the highest of those
  double rest_z = 0;   ///< of the sum without the best windows of any few seconds
  double sign = 1;     ///< -1 when one microphone is wired the other way round
};

struct LineRules {
  Line about;              ///< the line is looked for around this one
  double near = 0.06;      ///< seconds to either side
  double slope_reach = 0;  ///< how far its slope may be off
  double one_event = 6;    ///< seconds that count as a single event for rest_z
};
Backing sharp_line(const LagMap& map, const Stretch& stretch, const LineRules& rules);
Backing blurred_line(const LagMap& map, const Stretch& stretch, const LineRules& rules);

/// What must be seen for a line to hold.
struct Demand {
  double z = 0;
  double ratio = 1;  ///< to the best line that cannot be true
  double rest = 0;   ///< without the best event
};
bool holds(const Backing& backing, const Demand& demand);

/// Both sums, the sharp one near the blurred one if that holds: steady machines have side peaks as high as the true one
/// in the sharp sum, but rarely in the blurred.
struct Backings {
  Backing sharp;
  Backing blurred;
  bool by_sharp = false;
  bool by_blurred = false;
  bool any() const { return by_sharp || by_blurred; }
  const Line& line() const { return by_sharp ? sharp.line : blurred.line; }
};
Backings back(const LagMap& map, const Stretch& stretch, const LineRules& rules, const Demand& demand);

}  // namespace jigtime::sync
