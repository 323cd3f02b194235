#include "sync/track.h"

#include <algorithm>
#include <cmath>

namespace jigtime::sync {

namespace {

constexpr double lower_peak_price = 0.4;
constexpr std::size_t farthest_back = 12;  // peaks further back than this many windows are not continued

/// One peak that the path may go through.
struct Stop {
  std::size_t window = 0;
  double at = 0;
  double lag = 0;
  double z = 0;
  double price = 0;  // of the cheapest path that ends here
  int before = -1;
  bool jumped = false;
};

std::vector<Stop> stops_of(std::span<const Window> windows, double least_z) {
  std::vector<Stop> stops;
  for (std::size_t i = 0; i < windows.size(); ++i) {
    for (std::size_t k = 0; k < windows[i].peaks.size(); ++k) {
      const LagPeak& peak = windows[i].peaks[k];
      if (peak.z >= least_z) stops.push_back({i, windows[i].at, peak.lag, peak.z, k == 0 ? 0 : lower_peak_price});
    }
  }
  return stops;
}

void price(std::vector<Stop>& stops, const Line& guess, const TrackRules& rules) {
  for (std::size_t i = 0; i < stops.size(); ++i) {
    Stop& here = stops[i];
    const double own = here.price;
    here.price = own + rules.miss_price * static_cast<double>(here.window);
    for (std::size_t j = i; j-- > 0;) {
      const Stop& there = stops[j];
      if (there.window == here.window) continue;
      if (here.window - there.window > farthest_back) break;
      const double moved = std::abs(here.lag - there.lag - guess.slope * (here.at - there.at));
      const bool jump = moved > rules.same;
      const double missed = rules.miss_price * static_cast<double>(here.window - there.window - 1);
      const double total = there.price + own + missed + (jump ? rules.jump_price : 0);
      if (total < here.price) {
        here.price = total;
        here.before = static_cast<int>(j);
        here.jumped = jump;
      }
    }
  }
}

}  // namespace

std::vector<Run> follow(std::span<const Window> windows, const Line& guess, const TrackRules& rules) {
  std::vector<Stop> stops = stops_of(windows, rules.least_z);
  price(stops, guess, rules);
  int last = -1;
  double cheapest = INFINITY;
  for (std::size_t i = 0; i < stops.size(); ++i) {
    const double total = stops[i].price + rules.miss_price * static_cast<double>(windows.size() - 1 - stops[i].window);
    if (total < cheapest) {
      cheapest = total;
      last = static_cast<int>(i);
    }
  }
  std::vector<Run> runs;
  bool fresh = true;
  for (int i = last; i >= 0;) {
    const Stop& stop = stops[static_cast<std::size_t>(i)];
    if (fresh) runs.emplace_back();
    runs.back().observations.push_back({stop.at, stop.lag, std::min(stop.z, 20.0) / 10});
    fresh = stop.jumped;
    i = stop.before;
  }
  std::reverse(runs.begin(), runs.end());
  for (Run& run : runs) std::reverse(run.observations.begin(), run.observations.end());
  std::erase_if(runs, [&](const Run& run) { return static_cast<int>(run.observations.size()) < rules.least_windows; });
  return runs;
}

Run without_strays(const Run& run, std::span<const Window> windows, const TrackRules& rules) {
  const Line line = fit_line(run.observations, 0, most_slope).line;
  double best = 0, sum = 0, begin = 0, from = 0, to = -1;
  for (const Window& window : windows) {
    if (window.peaks.empty() || window.peaks.front().z < rules.least_z) continue;
    const bool agrees = std::abs(window.peaks.front().lag - line(window.at)) <= rules.same;
    if (sum <= 0) {
      sum = 0;
      begin = window.at;
    }
    sum += agrees ? 1 : -1;
    if (sum > best) {
      best = sum;
      from = begin;
      to = window.at;
    }
  }
  Run kept;
  for (const Observation& one : run.observations) {
    if (one.at >= from && one.at <= to) kept.observations.push_back(one);
  }
  return kept;
}

}  // namespace jigtime::sync
