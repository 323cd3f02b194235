#include "sync/loud_half.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "sync/lag_map.h"
#include "sync/standing.h"

namespace jigtime::sync {

namespace {

constexpr int windows_in_run = 12;
constexpr int most_runs = 20;
constexpr double apart = 0.75;  // of a window
constexpr int fewest_agree = 10;
constexpr double least_agree = 0.2;  // of the loud windows
/// Of what agrees among the loud windows. Real music under the work of two days, some seventy lines, runs of sixteen
/// windows in which anything clear on the line agreed: 0.30 once, else 0.48 and more. Work of one day without music, 16
/// pairs: less than 0.25 in 14.
constexpr double most_quiet = 0.25;
/// Luck and all. Own simulation, a song on two days: 0.33.
constexpr double most_quiet_at_all = 0.3;
/// Of windows that have nothing in common: the share of the lags around that counts as near.
constexpr double by_luck = 0.05;
constexpr double least_runs = 0.5;  // in which anything loud agrees
constexpr double near = 0.008;      // seconds around a line: most sounds of a shop
/// Of the sums. Own simulation, 290 lines of a song on two days: the loud sum was 1.48 times the quiet one at the most,
/// and 2.4 above 1.3 times it. Where spread sound of one day had been refused in noise, it was 1.4 to 4.2 times.
constexpr Demand loud_sum{9, 1.8, 5};
constexpr double clearly_louder = 1.3;
constexpr double louder_by = 4;
/// Of what is loud in both clips: hands on one camera, or wind, are loud in one. Same simulation, 36 pairs of two days:
/// each such window said 1.28 times as much as a quiet one at the most, and less than as much in 33. Of one day with
/// hands on both cameras, 13 pairs refused for other work: 1.5 and more in 8.
constexpr Demand both_sum{10, 1.8, 5};
constexpr double stronger_in_both = 1.55;
constexpr double least_strength = 0.5;  // by luck
constexpr int fewest_quiet = 8;
constexpr std::ptrdiff_t fewest_runs = 4;  // neighbours share windows where there are few
/// dB. Another simulation, 8 pairs of two days with a song below the noise in steps of 6 dB: 3 were believed with 1 dB,
/// 1 with 2. Blows of one day at the level of the noise have less, too.
constexpr double least_contrast = 2;
constexpr double few_quiet = 2;           // windows that agree, beyond luck
constexpr double most_quiet_clear = 0.3;  // of what share of the loud windows agrees, that of the quiet ones
constexpr double evidence_in_run = 2;     // spreads of its loud windows

struct Window {
  int number = 0;   ///< in the map
  double in_a = 0;  ///< what is above the lowest tones, in energy
  double in_b = 0;
  bool agrees = false;
};

const Line& line_at(std::span<const Segment> segments, double at) {
  const auto off = [at](const Segment& one) { return std::max({0.0, one.from - at, at - one.to}); };
  const auto nearest = std::min_element(segments.begin(), segments.end(),
                                        [&](const Segment& one, const Segment& two) { return off(one) < off(two); });
  return nearest->fit.line;
}

/// From sample to sample: wind and hum are slow.
double energy_at(const Hearing& clip, double at, std::span<float> samples) {
  const auto half = static_cast<std::int64_t>(samples.size() / 2);
  clip.read(std::llround((at - clip.origin()) * sample_rate_hz) - half, samples);
  double sum = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const auto step = static_cast<double>(samples[i] - samples[i - 1]);
    sum += step * step;
  }
  return sum;
}

/// The numbers below `count` by rising key.
template <class Key>
std::vector<std::size_t> ordered(std::size_t count, const Key& key) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) { return key(i) < key(j); });
  return order;
}

/// Of each window, how many are quieter.
std::vector<std::size_t> ranks(const std::vector<Window>& windows, double Window::*energy) {
  const auto order = ordered(windows.size(), [&](std::size_t i) { return windows[i].*energy; });
  std::vector<std::size_t> ranks(windows.size());
  for (std::size_t i = 0; i < order.size(); ++i) ranks[order[i]] = i;
  return ranks;
}

/// Windows of one run, or of all.
struct Parts {
  std::vector<Window> loud, quiet, loud_in_both, quiet_in_both;
};

Parts parted(const std::vector<Window>& windows) {
  const std::size_t count = windows.size();
  const auto in_a = ranks(windows, &Window::in_a), in_b = ranks(windows, &Window::in_b);
  const auto by_louder = ordered(count, [&](std::size_t i) { return std::max(in_a[i], in_b[i]); });
  const auto by_fainter = ordered(count, [&](std::size_t i) { return std::min(in_a[i], in_b[i]); });
  Parts parts;
  for (std::size_t k = 0; k < count; ++k) (k < count / 2 ? parts.quiet : parts.loud).push_back(windows[by_louder[k]]);
  for (std::size_t k = 2 * count / 3; k < count; ++k) parts.loud_in_both.push_back(windows[by_fainter[k]]);
  for (std::size_t i = 0; i < count; ++i) {
    if (std::max(in_a[i], in_b[i]) < count / 2) parts.quiet_in_both.push_back(windows[i]);
  }
  return parts;
}

LoudHalf::Part count(const std::vector<Window>& windows) {
  return {static_cast<int>(windows.size()), static_cast<int>(std::ranges::count_if(windows, &Window::agrees))};
}

/// dB of their mean energy.
double level(const std::vector<Window>& windows, double Window::*energy) {
  double sum = 0;
  for (const Window& one : windows) sum += one.*energy / static_cast<double>(windows.size());
  return 10 * std::log10(sum + 1e-30);
}

/// dB by which a run's windows that are loud in both clips lie above its quiet ones, in the clip in which that is less.
double contrast_of(const Parts& run) {
  if (run.loud_in_both.empty() || run.quiet_in_both.empty()) return 0;
  const auto of = [&](double Window::*energy) {
    return level(run.loud_in_both, energy) - level(run.quiet_in_both, energy);
  };
  return std::min(of(&Window::in_a), of(&Window::in_b));
}

LoudHalf::Sum sum_of(const LagMap& map, const std::vector<Window>& of) {
  std::vector<int> windows;
  for (const Window& one : of) windows.push_back(one.number);
  std::sort(windows.begin(), windows.end());
  LoudHalf::Sum sum;
  sum.part = count(of);
  if (windows.empty()) return sum;
  const LagMap own = map.of(windows);
  const LineRules rules{.about = Line{}, .near = near, .one_event = windows_in_run - 1};
  sum.backing = blurred_line(own, {0, own.windows() - 1}, rules);
  return sum;
}

double evidence_at(const LagMap& map, int window, double lag) {
  const auto cells = map.cells(window);
  const auto middle = static_cast<std::ptrdiff_t>(cells.size() / 2);
  return cells[static_cast<std::size_t>(middle + std::lround(lag / LagMap::cell_seconds))];
}

}  // namespace

LoudHalf loud_half(const Hearing& a, const Hearing& b, const Extent& within, std::span<const Segment> segments,
                   FineMatcher& matcher) {
  const double length = matcher.length();
  const double run = (1 + (windows_in_run - 1) * apart) * length;
  const int runs = std::clamp(static_cast<int>(std::ceil(within.length() / run)), 1, most_runs);
  std::vector<float> samples(static_cast<std::size_t>(length * sample_rate_hz));
  LoudHalf half;
  // Of all windows, by their number instead of their time, with lags from their lines.
  LagMap map{Line{}, matcher.reach() - LagMap::cell_seconds};
  Parts all;
  std::vector<Parts> parts;
  for (int i = 0; i < runs; ++i) {
    const double from = within.from + (runs > 1 ? i * (within.length() - run) / (runs - 1) : 0);
    std::vector<Window> windows;
    for (int w = 0; w < windows_in_run; ++w) {
      const double t = from + (0.5 + w * apart) * length;
      if (t + length / 2 > within.to) break;
      const Line& line = line_at(segments, t);
      const double middle = matcher.match(a, b, t, line);
      const int number = map.windows();
      map.add(number, matcher.lags(), matcher.middle_lag() - line(middle));
      if (map.windows() == number) continue;
      const Rank rank = rank_of(map, number, Line{});
      const bool agrees = rank == Rank::first || rank == Rank::surely;
      windows.push_back({number, energy_at(a, t, samples), energy_at(b, t + line(t), samples), agrees});
    }
    const Parts& own = parts.emplace_back(parted(windows));
    for (auto part : {&Parts::loud, &Parts::quiet, &Parts::loud_in_both, &Parts::quiet_in_both}) {
      (all.*part).insert((all.*part).end(), (own.*part).begin(), (own.*part).end());
    }
    half.contrast += contrast_of(own) / runs;
  }
  half.loud = sum_of(map, all.loud);
  half.quiet = sum_of(map, all.quiet);
  half.loud_in_both = sum_of(map, all.loud_in_both);
  half.quiet_in_both = sum_of(map, all.quiet_in_both);
  for (const Parts& own : parts) {
    LoudHalf::Run& told = half.runs.emplace_back(LoudHalf::Run{count(own.loud), count(own.quiet), 0});
    for (const Window& one : own.loud) told.evidence += evidence_at(map, one.number, half.loud.backing.line.lag);
  }
  return half;
}

namespace {

double beyond_luck(const LoudHalf::Part& part) { return part.agree - by_luck * part.windows; }

/// Whether that holds in enough of the runs: what both heard for a while and no more may be a jingle.
template <class Holds>
bool mostly(const std::vector<LoudHalf::Run>& runs, const Holds& one) {
  return static_cast<double>(std::ranges::count_if(runs, one)) >= least_runs * static_cast<double>(runs.size());
}

bool windows_agree(const LoudHalf& half) {
  const LoudHalf::Part &loud = half.loud.part, &quiet = half.quiet.part;
  if (loud.agree < fewest_agree || loud.agree < least_agree * loud.windows) return false;
  if (!mostly(half.runs, [](const LoudHalf::Run& run) { return run.loud.agree > 0; })) return false;
  return quiet.agree <= most_quiet_at_all * loud.agree && beyond_luck(quiet) <= most_quiet * beyond_luck(loud);
}

/// Whether windows that are quiet agree nearly as often as loud ones, beyond luck.
bool quiet_agrees(const LoudHalf::Sum& loud, const LoudHalf::Sum& quiet) {
  const double share = most_quiet_clear * quiet.part.windows / std::max(1, loud.part.windows);
  return beyond_luck(quiet.part) > std::max(few_quiet, share * beyond_luck(loud.part));
}

bool sums_agree(const LoudHalf& half) {
  // A song below the noise says far more in its loud seconds than in its quiet ones, but is hardly louder there than
  // noise; one above the noise is clear in its quiet seconds, too.
  if (std::ssize(half.runs) < fewest_runs || half.contrast < least_contrast) return false;
  const auto heard = [](const LoudHalf::Run& run) {
    return run.evidence >= evidence_in_run * std::sqrt(std::max(1.0, static_cast<double>(run.loud.windows)));
  };
  if (!mostly(half.runs, heard)) return false;
  const LoudHalf::Sum &loud = half.loud, &quiet = half.quiet;
  if (!quiet_agrees(loud, quiet) && holds(loud.backing, loud_sum) &&
      loud.backing.z >= clearly_louder * quiet.backing.z + louder_by) {
    return true;
  }
  const LoudHalf::Sum &in_both = half.loud_in_both, &quiet_in_both = half.quiet_in_both;
  return !quiet_agrees(in_both, quiet_in_both) && holds(in_both.backing, both_sum) &&
         quiet_in_both.part.windows >= fewest_quiet &&
         in_both.strength() >= stronger_in_both * std::max(quiet_in_both.strength(), least_strength);
}

}  // namespace

bool only_loud_agrees(const LoudHalf& half) { return windows_agree(half) || sums_agree(half); }

}  // namespace jigtime::sync
