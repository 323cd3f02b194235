#include "sync/jump.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "sync/lag_map.h"

namespace jigtime::sync {

namespace {

constexpr double around = 12;  // seconds by which either side may have been followed too far
constexpr double step = 0.5;
constexpr double near_best = 2.5;  // borders that are as good as the best, were there no luck
/// By which luck alone makes one of two borders seem the better, times the root of the windows in between: what a
/// silence of three minutes adds up to in our own simulation is 10.
constexpr double luck_of_a_window = 0.5;
constexpr double luck = 2.5;        // evidence that nothing has here and there
constexpr double one_way = 0.0005;  // seconds: all sound came along one line
constexpr double narrowest = 0.0003;
constexpr double sharp_luck = 3;  // of the highest of some samples
constexpr int blur_cells = 4;     // to either side: sources all over the shop

struct Sides {
  const Hearing* loser;
  const Hearing* other;
  Line before;
  Line after;
  double spread = 0;  ///< of either line's lags, seconds
};

/// What the sound at `at` has for the line, above what is usual at other lags.
double evidence_on(FineMatcher& matcher, const Sides& sides, double at, const Line& line) {
  LagMap map{line, matcher.reach() - 0.001};
  const double middle = matcher.match(*sides.loser, *sides.other, at, line);
  map.add(middle, matcher.lags(), matcher.middle_lag());
  if (map.windows() == 0) return 0;
  if (sides.spread < one_way) {
    return std::max(0.0, map.highest(0, line(middle), std::max(narrowest, 3 * sides.spread)).z - sharp_luck);
  }
  const auto cells = map.cells(0);
  const auto centre = cells.begin() + static_cast<std::ptrdiff_t>(cells.size() / 2);
  const double most = *std::max_element(centre - blur_cells, centre + blur_cells + 1);
  return std::max(0.0, most - luck);
}

struct Border {
  double at = 0;
  double loose = 0;  ///< seconds to either side that are as good
};

/// The border between places that lean to the first line and places that lean to the second; the middle of all that
/// are as good, as in a stretch without sound.
Border best_border(FineMatcher& matcher, const Sides& sides, double from, double to) {
  const int count = std::max(1, static_cast<int>((to - from) / step) + 1);
  std::vector<double> leanings;
  double score = 0;
  for (int i = 0; i < count; ++i) {
    const double at = from + i * step;
    leanings.push_back(evidence_on(matcher, sides, at, sides.before) - evidence_on(matcher, sides, at, sides.after));
    score -= leanings.back();
  }
  std::vector<double> scores{score};
  for (const double one : leanings) scores.push_back(score += 2 * one);
  const double best = *std::max_element(scores.begin(), scores.end());
  const double near = near_best + luck_of_a_window * std::sqrt(static_cast<double>(count));
  const auto good = [&](double one) { return one > best - near; };
  const auto first = std::find_if(scores.begin(), scores.end(), good) - scores.begin();
  const auto last = scores.rend() - std::find_if(scores.rbegin(), scores.rend(), good) - 1;
  return {from + (static_cast<double>(first + last) / 2 - 0.5) * step, static_cast<double>(last - first) / 2 * step};
}

}  // namespace

void narrow_jump(FineMatcher& matcher, const Hearing& a, const Hearing& b, Segment& before, Segment& after) {
  const Line first = before.fit.line, second = after.fit.line;
  const bool a_lost = step_between(before, after) > 0;
  const double spread = std::max(before.fit.spread, after.fit.spread);
  const Sides sides =
      a_lost ? Sides{&a, &b, first, second, spread} : Sides{&b, &a, reversed(first), reversed(second), spread};
  const auto loser_time = [&](double t, const Line& line) { return a_lost ? t : t + line(t); };
  const double end = loser_time(before.to, first), begin = loser_time(after.from, second);
  const double low = std::max(loser_time(before.from, first), std::min(end, begin) - around);
  const double high = std::min(loser_time(after.to, second), std::max(end, begin) + around);
  const Border border = best_border(matcher, sides, low, std::max(low, high));
  before.to = a_lost ? border.at : border.at + sides.before(border.at);
  after.from = a_lost ? border.at : border.at + sides.after(border.at);
  after.loose = border.loose;
}

}  // namespace jigtime::sync
