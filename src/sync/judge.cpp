#include "sync/judge.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"
#include "sync/observe.h"

namespace jigtime::sync {

namespace {

constexpr double one_shop = 0.008;        // seconds around a line: most sounds of a shop
constexpr double one_shop_chance = 0.45;  // of a lag that says nothing to lie there
constexpr double surely_together = -1.3;
constexpr double clear_reach = 0.015;
constexpr double clear_peak = 4.7;  // of a window's highest sample
constexpr double least_explained = 0.6;
constexpr double least_within = 0.72;
constexpr double least_explained_within = 0.5;
/// What noise alone does in a second of Frames::activity, and in all windows what is hardly more.
constexpr double noise_activity = 1.5;
constexpr double hardly_audible = 40;
constexpr double least_loud = 5;  // units of Frames::activity, of a window in which something surely happens
constexpr int few_windows = 12;
constexpr double least_agreed_of_few = 0.75;  // of the windows that are as loud as those that agree
constexpr double least_agreed = 0.55;
constexpr double proof_in_noise = 10;
constexpr int agreed_in_noise = 5;
constexpr double shared_seconds = 6;  // two segments may share that much: where a jump lies is known no better
constexpr double warming_slope = 20e-6;

double shared(double from_a, double to_a, double from_b, double to_b) {
  return std::min(to_a, to_b) - std::max(from_a, from_b);
}

}  // namespace

const Segment& strongest(const std::vector<Segment>& segments) {
  const auto weaker = [](const Segment& s, const Segment& t) { return s.proof < t.proof; };
  return *std::max_element(segments.begin(), segments.end(), weaker);
}

bool contradict(const Segment& s, const Segment& t) {
  if (shared(s.from, s.to, t.from, t.to) > shared_seconds) return true;
  const auto heard_from = [](const Segment& x) { return x.from + x.fit.line(x.from); };
  const auto heard_to = [](const Segment& x) { return x.to + x.fit.line(x.to); };
  if (shared(heard_from(s), heard_to(s), heard_from(t), heard_to(t)) > shared_seconds) return true;
  return (s.from < t.from) != (heard_from(s) < heard_from(t));
}

bool same_place(const Segment& s, const Segment& t) {
  const double middle = (std::max(s.from, t.from) + std::min(s.to, t.to)) / 2;
  return shared(s.from, s.to, t.from, t.to) > 0 && std::abs(s.fit.line(middle) - t.fit.line(middle)) < 0.02;
}

Stretch without_strays(const LagMap& map, const Stretch& stretch, const Line& line) {
  std::vector<double> agrees;
  double usual = 0;
  for (int w = stretch.first; w <= stretch.last; ++w) {
    agrees.push_back(map.highest(w, line(map.time(w)), clear_reach).z >= clear_peak ? 1 : 0);
    usual += agrees.back() / stretch.count();
  }
  Stretch best = stretch;
  double most = 0, sum = 0;
  int first = stretch.first;
  for (int w = stretch.first; w <= stretch.last; ++w) {
    sum += agrees[static_cast<std::size_t>(w - stretch.first)] - usual / 2;
    if (sum > most) {
      most = sum;
      best = {first, w};
    }
    if (sum < 0) {
      sum = 0;
      first = w + 1;
    }
  }
  return best;
}

Segment observe_all(const LagMap& map, const Stretch& stretch, const Backings& backings) {
  Segment whole = observe(map, stretch, backings);
  const int parts = static_cast<int>((whole.to - whole.from) / straight_seconds);
  if (parts < 2) return whole;
  whole.observations.clear();
  double square = 0;
  for (int part = 0; part < parts; ++part) {
    const Stretch own{stretch.first + stretch.count() * part / parts,
                      stretch.first + stretch.count() * (part + 1) / parts - 1};
    if (own.count() < 3) continue;
    const LineRules rules{.about = backings.line(), .near = near_run, .slope_reach = warming_slope};
    const Backings local = back(map, own, rules, sure_beside);
    if (!local.any()) continue;
    const Segment seen = observe(map, own, local);
    whole.observations.insert(whole.observations.end(), seen.observations.begin(), seen.observations.end());
    square += static_cast<double>(seen.observations.size()) * seen.fit.spread * seen.fit.spread;
  }
  if (whole.observations.empty()) return observe(map, stretch, backings);
  whole.agreed = static_cast<int>(whole.observations.size());
  whole.fit = fit_line(whole.observations, 0, most_slope);
  whole.fit.spread = std::sqrt(square / static_cast<double>(whole.observations.size()));
  return whole;
}

bool on_one_line(const Segment& segment) {
  const auto near = [&](const Observation& one) { return std::abs(one.lag - segment.fit.line(one.at)) < one_shop; };
  const auto& all = segment.observations;
  const int together = static_cast<int>(std::count_if(all.begin(), all.end(), near));
  const double log10_chance =
      signal::log10_binomial_tail(together - 1, static_cast<int>(all.size()) - 1, one_shop_chance);
  return log10_chance < surely_together;
}

void set_shares(const Frames& a, const Frames& b, const LagMap& map, double seconds, Segment& segment) {
  const Line& line = segment.fit.line;
  const auto beyond_noise = [seconds](const Frames& frames, double t) {
    return std::max(0.0, frames.activity(t - seconds / 2, t + seconds / 2) - noise_activity * seconds);
  };
  double all = 0, explained = 0, within = 0;
  segment.glimpses.clear();
  for (int w = 0; w < map.windows(); ++w) {
    const double t = map.time(w);
    const double happens = std::sqrt(beyond_noise(a, t) * beyond_noise(b, t + line(t)));
    const bool in = t >= segment.from && t <= segment.to;
    const bool agrees = map.highest(w, line(t), clear_reach).z >= clear_peak;
    all += happens;
    within += in ? happens : 0;
    explained += in && agrees ? happens : 0;
    segment.glimpses.push_back({t, happens, agrees});
  }
  segment.audible = all;
  if (!(all > 0)) return;
  segment.within = within / all;
  segment.explained = explained / all;
  // A piece far from the map's base was heard in windows of its own.
  const double middle = (segment.from + segment.to) / 2;
  if (std::abs(line(middle) - map.base()(middle)) > LagMap::sharp_reach - clear_reach && segment.windows > 0) {
    segment.explained = segment.within * segment.agreed / segment.windows;
  }
}

bool goes_on_unmatched(const std::vector<Segment>& segments) {
  const Segment& main = strongest(segments);
  double first = main.from, last = main.to;
  for (const Segment& segment : segments) {
    first = std::min(first, segment.from);
    last = std::max(last, segment.to);
  }
  std::vector<double> heard;
  for (const Glimpse& one : main.glimpses) {
    if (one.agrees && one.at >= main.from && one.at <= main.to) heard.push_back(one.happens);
  }
  if (heard.empty()) return false;
  const double loud = std::max(least_loud, signal::median(std::move(heard)) / 2);
  int all = 0, inside = 0, agreed = 0;
  for (const Glimpse& one : main.glimpses) {
    if (one.happens < loud) continue;
    const bool in = one.at >= main.from && one.at <= main.to;
    inside += in ? 1 : 0;
    agreed += in && one.agrees ? 1 : 0;
    all += in || one.at < first || one.at > last ? 1 : 0;
  }
  return agreed < (inside < few_windows ? least_agreed_of_few : least_agreed) * all;
}

bool explains_enough(const std::vector<Segment>& segments) {
  double explained = 0, within = 0, audible = 0, proof = 0;
  int agreed = 0;
  for (const Segment& segment : segments) {
    explained += segment.explained;
    within += segment.within;
    audible = std::max(audible, segment.audible);
    proof = std::max(proof, segment.proof);
    agreed += segment.agreed;
  }
  // Where noise hides all that happens, nothing can be left unexplained.
  if (audible < hardly_audible) return proof >= proof_in_noise && agreed >= agreed_in_noise;
  return explained >= least_explained || (within >= least_within && explained >= least_explained_within);
}

void join_pieces(std::vector<Segment>& segments) {
  for (std::size_t i = 0; i + 1 < segments.size();) {
    Segment& first = segments[i];
    const Segment& second = segments[i + 1];
    const double middle = (first.to + second.from) / 2;
    if (std::abs(first.fit.line(middle) - second.fit.line(middle)) >= least_jump) {
      ++i;
      continue;
    }
    first.to = second.to;
    first.observations.insert(first.observations.end(), second.observations.begin(), second.observations.end());
    const double spread = std::max(first.fit.spread, second.fit.spread);
    first.fit = fit_line(first.observations, 0, most_slope);
    first.fit.spread = std::max(spread, first.fit.spread);
    first.windows += second.windows;
    first.agreed += second.agreed;
    first.proof = std::max(first.proof, second.proof);
    segments.erase(segments.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
}

}  // namespace jigtime::sync
