#include "sync/jump.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace jigtime::sync {

namespace {

constexpr double nearest_line = 0.012;  // seconds that a peak may lie off a line, for sources all over the shop
constexpr double most_trust = 10;       // of one window
constexpr int grid = 24;
constexpr double finest = 0.25;
constexpr double near_best = 3;

/// The same line as b sees it.
Line turned(const Line& line) { return {line.at + line.lag, -line.lag, -line.slope / (1 + line.slope)}; }

struct Sides {
  const Hearing* loser;
  const Hearing* other;
  Line before;
  Line after;
};

double strength_on(const Window& window, const Line& line, double nearest) {
  double most = 0;
  for (const LagPeak& peak : window.peaks) {
    if (std::abs(peak.lag - line(window.at)) <= nearest) most = std::max(most, peak.z);
  }
  return most;
}

/// How much more the sound at `at` lies on the first line than on the second.
double leaning(FineMatcher& matcher, const Sides& sides, double at) {
  const double nearest = std::min(nearest_line, std::abs(sides.after(at) - sides.before(at)) / 2);
  const double first = strength_on(matcher.match(*sides.loser, *sides.other, at, sides.before), sides.before, nearest);
  const double second = strength_on(matcher.match(*sides.loser, *sides.other, at, sides.after), sides.after, nearest);
  return std::clamp(first - second, -most_trust, most_trust);
}

/// The border between places that lean to the first line and places that lean to the second.
double best_border(FineMatcher& matcher, const Sides& sides, double from, double step, int count) {
  std::vector<double> leanings;
  for (int i = 0; i < count; ++i) leanings.push_back(leaning(matcher, sides, from + i * step));
  double score = 0;
  for (const double one : leanings) score -= one;
  std::vector<double> scores{score};
  for (const double one : leanings) scores.push_back(score += 2 * one);
  const double best = *std::max_element(scores.begin(), scores.end());
  const auto good = [&](double one) { return one > best - near_best; };
  const auto first = std::find_if(scores.begin(), scores.end(), good) - scores.begin();
  const auto last = scores.rend() - std::find_if(scores.rbegin(), scores.rend(), good) - 1;
  return from + (static_cast<double>(first + last) / 2 - 0.5) * step;
}

}  // namespace

void narrow_jump(FineMatcher& matcher, const Hearing& a, const Hearing& b, Segment& before, Segment& after) {
  const Line first = before.fit.line, second = after.fit.line;
  const double middle = (before.to + after.from) / 2;
  const bool a_lost = second(middle) > first(middle);
  const Sides sides = a_lost ? Sides{&a, &b, first, second} : Sides{&b, &a, turned(first), turned(second)};
  const double end = a_lost ? before.to : before.to + first(before.to);
  const double begin = a_lost ? after.from : after.from + second(after.from);
  double low = std::min(end, begin) - matcher.length(), high = std::max(end, begin) + matcher.length();
  double border = (low + high) / 2;
  for (double step = (high - low) / grid;; step /= 4) {
    step = std::max(step, finest);
    border = best_border(matcher, sides, low, step, static_cast<int>(std::ceil((high - low) / step)) + 1);
    if (step <= finest) break;
    low = border - 2 * step;
    high = border + 2 * step;
  }
  before.to = a_lost ? border : border + sides.before(border);
  after.from = a_lost ? border : border + sides.after(border);
}

}  // namespace jigtime::sync
