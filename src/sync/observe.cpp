#include "sync/observe.h"

#include <algorithm>
#include <cmath>

#include "signal/correlate.h"
#include "signal/statistics.h"
#include "sync/line_up.h"

namespace jigtime::sync {

namespace {

constexpr double narrow = 0.0015;       // seconds: one way of the sound
constexpr double wide = 0.02;           // sound from all over a shop
constexpr double one_way_share = 0.85;  // of the clear windows on one line: all sound came the same way
constexpr std::size_t enough_short = 8;
constexpr std::size_t fewest_alone = 6;   // clear windows of which each is an observation
constexpr double least_off = 3e-4;        // seconds beyond which a window is not on a line that all sound came along
constexpr std::ptrdiff_t few_beyond = 3;  // windows
constexpr double far_beyond = 20;         // seconds
constexpr double sum_sought = 6;          // of a group of windows
constexpr double most_weighty = 20;
constexpr double rate_prior = 70e-6;  // of two cameras against each other

std::vector<Observation> clear_windows(const LagMap& map, const Stretch& stretch, const Line& line, double nearest) {
  std::vector<Observation> found;
  for (int w = stretch.first; w <= stretch.last; ++w) {
    const LagPeak peak = map.highest(w, line(map.time(w)), nearest);
    if (peak.z >= clear_peak) found.push_back({map.time(w), peak.lag, std::min(peak.z, most_weighty) / 10});
  }
  return found;
}

/// The highest sum of the windows [first, last] within `narrow` of the line.
Observation sum_of_windows(const LagMap& map, int first, int last, const Backing& sharp) {
  const int half = static_cast<int>(narrow * sample_rate_hz);
  std::vector<float> sums(static_cast<std::size_t>(2 * half + 1), 0.0f);
  double middle = 0;
  for (int w = first; w <= last; ++w) {
    const double t = map.time(w);
    middle += t / (last - first + 1);
    const auto values = map.samples(w);
    const int centre = static_cast<int>(values.size()) / 2 +
                       static_cast<int>(std::lround((sharp.line(t) - map.base()(t) - map.middle(w)) * sample_rate_hz));
    for (int i = -half; i <= half; ++i) {
      const int place = centre + i;
      if (place < 0 || place >= static_cast<int>(values.size())) continue;
      sums[static_cast<std::size_t>(i + half)] +=
          static_cast<float>(sharp.sign) * values[static_cast<std::size_t>(place)];
    }
  }
  const int best = static_cast<int>(std::max_element(sums.begin(), sums.end()) - sums.begin());
  const signal::Peak peak = signal::vertex(sums, best);
  const double z = peak.height / std::sqrt(static_cast<double>(last - first + 1));
  return {middle, sharp.line(middle) + (peak.position - half) / sample_rate_hz, std::clamp(z, 0.5, most_weighty) / 10};
}

std::vector<Observation> groups_of_windows(const LagMap& map, const Stretch& stretch, const Backing& sharp) {
  const int groups = std::clamp(static_cast<int>(std::pow(sharp.z / sum_sought, 2)), 1, 12);
  std::vector<Observation> found;
  for (int g = 0; g < groups; ++g) {
    const int first = stretch.first + stretch.count() * g / groups;
    const int last = stretch.first + stretch.count() * (g + 1) / groups - 1;
    if (last >= first) found.push_back(sum_of_windows(map, first, last, sharp));
  }
  return found;
}

/// Root of the mean square from the line: sounds from other places are no outliers.
double spread_of(const Segment& segment) {
  double sum = 0;
  for (const Observation& one : segment.observations) {
    const double off = one.lag - segment.fit.line(one.at);
    sum += off * off / static_cast<double>(segment.observations.size());
  }
  return std::sqrt(sum);
}

/// A window at either end that lies off the line which the others share so closely heard something else. Where sound
/// came from all over the shop, that is said only of a few windows far from all others.
void trim_ends(std::vector<Observation>& all, bool one_way) {
  const Line line = fit_line(all, 0, rate_prior).line;
  const auto off = [&](const Observation& one) { return std::abs(one.lag - line(one.at)); };
  std::vector<double> distances;
  for (const Observation& one : all) distances.push_back(off(one));
  const double most = std::max(least_off, 5 * signal::mad_to_sigma * signal::median(std::move(distances)));
  const auto on_line = [&](const Observation& one) { return off(one) <= most; };
  const auto last = std::find_if(all.rbegin(), all.rend(), on_line).base();
  const auto first = std::find_if(all.begin(), last, on_line);
  const auto far = [&](auto from, auto to, double hole) {
    return one_way || (to - from <= few_beyond && hole >= far_beyond);
  };
  if (first == last) return;
  if (last != all.end() && far(last, all.end(), last->at - std::prev(last)->at)) all.erase(last, all.end());
  if (first != all.begin() && far(all.begin(), first, first->at - std::prev(first)->at)) all.erase(all.begin(), first);
}

void fit(Segment& segment) {
  segment.fit = fit_line(segment.observations, 0, rate_prior);
  segment.fit.spread = std::max(segment.fit.spread, spread_of(segment));
}

}  // namespace

Segment observe(const LagMap& map, const Stretch& stretch, const Backings& backings) {
  const auto& [sharp, blurred, by_sharp, by_blurred] = backings;
  Segment segment;
  segment.from = map.time(stretch.first);
  segment.to = map.time(stretch.last);
  segment.windows = stretch.count();
  segment.proof = std::max(sharp.z, blurred.z);
  const Line& about = by_blurred ? blurred.line : sharp.line;
  const std::vector<Observation> on_line = clear_windows(map, stretch, sharp.line, narrow);
  segment.observations = clear_windows(map, stretch, about, by_blurred ? wide : narrow);
  segment.agreed = static_cast<int>(segment.observations.size());
  const bool one_way = by_sharp && static_cast<double>(on_line.size()) >= one_way_share * segment.agreed;
  if (one_way) segment.observations = on_line;
  if (one_way && on_line.size() < fewest_alone) {
    segment.observations = groups_of_windows(map, stretch, sharp);
  } else if (!segment.observations.empty()) {
    trim_ends(segment.observations, one_way);
    segment.from = segment.observations.front().at;
    segment.to = segment.observations.back().at;
  }
  segment.agreed = std::max(segment.agreed, static_cast<int>(segment.observations.size()));
  if (segment.observations.empty()) segment.observations.push_back({about.at, about.lag, 0.5});
  fit(segment);
  return segment;
}

void tell_places_apart(const LagMap& map, Segment& segment) {
  const Line& line = segment.fit.line;
  const std::vector<Observation> seen = clear_windows(map, {0, map.windows() - 1}, line, wide);
  const auto on_line = [&](const Observation& one) { return std::abs(one.lag - line(one.at)) <= narrow; };
  const auto together = std::count_if(seen.begin(), seen.end(), on_line);
  const auto count = static_cast<double>(seen.size());
  if (seen.size() < enough_short || static_cast<double>(together) >= one_way_share * count) return;
  segment.observations = seen;
  fit(segment);
}

}  // namespace jigtime::sync
