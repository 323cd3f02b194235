#include "sync/hidden_jump.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "signal/statistics.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr std::size_t least_side = 6;      // observations
constexpr double far_better = 0.4;         // of the usual distance from one line is left
constexpr double widest_distance = 0.004;  // seconds, usual, from two lines: a shop's own
constexpr double least_distance = 0.001;

/// Moments of a stretch of observations.
struct Moments {
  double count = 0, at = 0, lag = 0, at_at = 0, at_lag = 0, lag_lag = 0;

  Moments operator-(const Moments& m) const {
    return {count - m.count, at - m.at, lag - m.lag, at_at - m.at_at, at_lag - m.at_lag, lag_lag - m.lag_lag};
  }
  void add(double x, double y) {
    count += 1;
    at += x;
    lag += y;
    at_at += x * x;
    at_lag += x * y;
    lag_lag += y * y;
  }
  double spread_at() const { return at_at - at * at / count; }
  double spread_both() const { return at_lag - at * lag / count; }
  double spread_lag() const { return lag_lag - lag * lag / count; }
};

struct Halves {
  std::size_t border = 0;  ///< first observation after the jump; 0: no jump is better
  Line before;
  Line after;
  const Line& on(std::size_t i) const { return i < border ? before : after; }
};

/// Least squares, for every border there may be.
Halves best_halves(std::span<const Observation> seen) {
  // Around the first one, so that small differences of large numbers stay exact.
  const Observation& origin = seen.front();
  std::vector<Moments> up_to{{}};
  for (const Observation& one : seen) {
    up_to.push_back(up_to.back());
    up_to.back().add(one.at - origin.at, one.lag - origin.lag);
  }
  const Moments& all = up_to.back();
  double least = all.spread_lag() - all.spread_both() * all.spread_both() / all.spread_at();
  Halves best;
  for (std::size_t i = least_side; i + least_side <= seen.size(); ++i) {
    const Moments before = up_to[i], after = all - up_to[i];
    const double along = before.spread_at() + after.spread_at();
    const double both = before.spread_both() + after.spread_both();
    const double slope = along > 0 ? both / along : 0;
    const double squares = before.spread_lag() + after.spread_lag() - slope * both;
    if (!(squares < least)) continue;
    least = squares;
    const auto line = [&](const Moments& m) {
      return Line{origin.at + m.at / m.count, origin.lag + m.lag / m.count, slope};
    };
    best = {i, line(before), line(after)};
  }
  return best;
}

double usual_distance(std::span<const Observation> seen, const auto& line_at) {
  std::vector<double> distances;
  for (std::size_t i = 0; i < seen.size(); ++i) distances.push_back(std::abs(seen[i].lag - line_at(i)(seen[i].at)));
  return signal::median(std::move(distances));
}

}  // namespace

std::optional<HiddenJump> hidden_jump(std::span<const Observation> observations) {
  if (observations.size() < 2 * least_side) return std::nullopt;
  Halves halves = best_halves(observations);
  if (halves.border == 0) return std::nullopt;
  // Once more without what lies on neither line: near a jump a window shows luck.
  const double usual =
      std::max(least_distance, usual_distance(observations, [&](std::size_t i) { return halves.on(i); }));
  std::vector<Observation> seen;
  for (std::size_t i = 0; i < observations.size(); ++i) {
    const Observation& one = observations[i];
    if (std::abs(one.lag - halves.on(i)(one.at)) <= 3 * usual) seen.push_back(one);
  }
  if (seen.size() < 2 * least_side) return std::nullopt;
  halves = best_halves(seen);
  if (halves.border == 0 || std::abs(halves.before.slope) > most_slope) return std::nullopt;
  const double two_lines = usual_distance(seen, [&](std::size_t i) { return halves.on(i); });
  const Line one_line = fit_line(observations, 0, most_slope).line;
  const double one = usual_distance(observations, [&](std::size_t) { return one_line; });
  if (two_lines > far_better * one || two_lines > widest_distance) return std::nullopt;
  const double at = (seen[halves.border - 1].at + seen[halves.border].at) / 2;
  if (std::abs(halves.before(at) - halves.after(at)) < least_jump) return std::nullopt;
  return HiddenJump{at, halves.before, halves.after};
}

}  // namespace jigtime::sync
