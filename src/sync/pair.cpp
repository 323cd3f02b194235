#include "sync/pair.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"
#include "sync/jump.h"
#include "sync/observe.h"

namespace jigtime::sync {

namespace {

constexpr double least_score = 4.5;  // of a coarse candidate worth a fine look
constexpr int candidates_tried = 6;
constexpr int tried_in_vain = 3;     // without any proof: the true place is rarely the fourth
constexpr double usual_luck = 8;     // coarse score that clips of different days reach somewhere
constexpr double nearly_all = 0.8;   // of an overlap covered by what is proven already
constexpr double rival_score = 0.6;  // of the coarse search, against the best: could be another place as good
constexpr double least_stretch = 5;  // seconds in which anything can be proven
constexpr double widest_apart = 20;  // seconds between windows along a line
constexpr int windows_wanted = 64;
constexpr int most_windows = 800;
constexpr int windows_to_prove = 32;
constexpr double hopeless = 3;  // of half the windows
constexpr double hopeless_sharp = 4.8;
constexpr Demand sure{7, 1.35, 4.5};
constexpr Demand sure_beside{5, 1.2, 3};  // of a piece next to what is proven
constexpr double one_shop = 0.008;        // seconds around a line: most sounds of a shop
constexpr double one_shop_chance = 0.45;  // of a lag that says nothing to lie there
constexpr double surely_together = -1.3;
constexpr double clear_reach = 0.015;
constexpr double clear_peak = 4.7;  // of a window's highest sample
constexpr double least_explained = 0.48;
constexpr double least_within = 0.72;
constexpr double least_explained_within = 0.15;
constexpr double undecided = 5;              // standard errors that tell one of two lines
constexpr double least_jump = 0.028;         // seconds; what differs by less is another place in the shop
constexpr double longest_blow = 0.06;        // seconds
constexpr double same_cameras_slope = 6e-6;  // a pair's slope changes by less while it runs
constexpr double straight_seconds = 600;     // in which no camera's rate changes enough to be seen
constexpr double warming_slope = 20e-6;
constexpr double near_run = 0.03;
constexpr double kept_offset = 0.12;  // seconds from a map's base within which its samples serve
constexpr double rival_share = 0.7;   // as much of the winner's proof makes another place a rival
constexpr double shared_seconds = 6;  // two segments may share that much: where a jump lies is known no better

Extent overlap_of(const Hearable& a, const Hearable& b, const Line& line) {
  const double lag = line((a.from + a.to) / 2);
  Extent both{std::max(a.from, b.from - lag), std::min(a.to, b.to - lag)};
  if (both.length() <= 0) return both;
  // Once more with the lag of either end: over hours the slope moves it by a second.
  both = {std::max(a.from, b.from - line(both.from)), std::min(a.to, b.to - line(both.to))};
  return both;
}

const Segment& strongest(const std::vector<Segment>& segments) {
  const auto weaker = [](const Segment& s, const Segment& t) { return s.proof < t.proof; };
  return *std::max_element(segments.begin(), segments.end(), weaker);
}

double shared(double from_a, double to_a, double from_b, double to_b) {
  return std::min(to_a, to_b) - std::max(from_a, from_b);
}

/// Both cannot be: they claim the same stretch of a or of b for different lags, or turn the order around.
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

/// The stretch over which windows agree with the line as often as they do on the whole: one that happens to fit far
/// away does not lengthen it.
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

/// A long stretch is observed part by part: a camera that warms bends the line by more than the sharp sum allows.
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

/// Whether the windows' lags lie closer together than luck has it. Music with a beat fits itself at many places, but
/// within a beat it does not say where.
bool on_one_line(const Segment& segment) {
  const auto near = [&](const Observation& one) { return std::abs(one.lag - segment.fit.line(one.at)) < one_shop; };
  const auto& all = segment.observations;
  const int together = static_cast<int>(std::count_if(all.begin(), all.end(), near));
  const double log10_chance =
      signal::log10_binomial_tail(together - 1, static_cast<int>(all.size()) - 1, one_shop_chance);
  return log10_chance < surely_together;
}

/// How much of what happens along the segment's line it explains. A song on the radio is the same on another day, but
/// the work is not.
void set_shares(const Hearable& a, const Hearable& b, const LagMap& map, double seconds, Segment& segment) {
  const Line& line = segment.fit.line;
  double all = 0, explained = 0, within = 0;
  for (int w = 0; w < map.windows(); ++w) {
    const double t = map.time(w), u = t + line(t), half = seconds / 2;
    const double happens = std::sqrt(a.frames->activity(t - half, t + half) * b.frames->activity(u - half, u + half));
    const bool in = t >= segment.from && t <= segment.to;
    const bool on = in && map.highest(w, line(t), clear_reach).z >= clear_peak;
    all += happens;
    within += in ? happens : 0;
    explained += on ? happens : 0;
  }
  if (!(all > 0)) return;
  segment.within = within / all;
  segment.explained = explained / all;
}

/// Whether enough of what both heard fits. Where it is hard to hear, little bears the line out, but all along.
bool explains_enough(const std::vector<Segment>& segments) {
  double explained = 0, within = 0;
  for (const Segment& segment : segments) {
    explained += segment.explained;
    within += segment.within;
  }
  return explained >= least_explained || (within >= least_within && explained >= least_explained_within);
}

/// Pieces that follow each other on one line are one.
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

/// Clip seconds of a at which either clip's parts meet.
std::vector<double> joins_of(const Hearable& a, const Hearable& b, const Line& line) {
  std::vector<double> joins = a.joins;
  for (const double t : b.joins) joins.push_back(t - line(t - line.lag));
  return joins;
}

}  // namespace

PairMatcher::PairMatcher() : long_{65536, 1.0}, middle_{32768, 1.0}, short_{16384, 1.0} {}

FineMatcher& PairMatcher::matcher_for(double overlap) { return overlap > 30 ? long_ : overlap > 8 ? middle_ : short_; }

LagMap PairMatcher::map_of(const Pair& pair, const Line& line, const Extent& within, const Sampling& sampling) {
  LagMap map{line, sampling.matcher->reach() - 0.001};
  for (const double at :
       eventful_places(*pair.a.frames, *pair.b.frames, line,
                       {within.from, within.to, sampling.matcher->length(), sampling.apart, sampling.most})) {
    const double middle = sampling.matcher->match(*pair.a.hearing, *pair.b.hearing, at, line);
    map.add(middle, sampling.matcher->lags(), sampling.matcher->middle_lag());
  }
  return map;
}

std::optional<Line> PairMatcher::prove(const Pair& pair, const Candidate& candidate, const Extent& both) {
  FineMatcher& matcher = matcher_for(both.length());
  const double apart = std::max(both.length() / (3 * windows_to_prove), matcher.length() * 0.75);
  const auto places = eventful_places(*pair.a.frames, *pair.b.frames, candidate.line,
                                      {both.from, both.to, matcher.length(), apart, windows_to_prove});
  LagMap map{candidate.line, matcher.reach() - 0.001};
  const LineRules rules{.about = candidate.line, .slope_reach = candidate.slope_reach};
  // Every other window first: the hopeless are left with half of the work.
  for (const std::size_t first : {0UL, 1UL}) {
    for (std::size_t i = first; i < places.size(); i += 2) {
      const double middle = matcher.match(*pair.a.hearing, *pair.b.hearing, places[i], candidate.line);
      map.add(middle, matcher.lags(), matcher.middle_lag());
    }
    if (map.windows() < 2) continue;
    const Backings backings = back(map, {0, map.windows() - 1}, rules, sure);
    if (first == 0) {
      if (places.size() > 12 && backings.blurred.z < hopeless && backings.sharp.z < hopeless_sharp) return std::nullopt;
    } else if (backings.any()) {
      return backings.line();
    }
  }
  return std::nullopt;
}

std::optional<Segment> PairMatcher::segment_of(const Pair& pair, const LagMap& map, const Run& run,
                                               double slope_reach) {
  if (run.windows.count() < 3) return std::nullopt;
  const double from = map.time(run.windows.first), to = map.time(run.windows.last);
  const LineRules rules{.about = run.line, .near = near_run, .slope_reach = std::min(slope_reach, 0.02 / (to - from))};
  const auto segment_in = [&](const LagMap& about, const Stretch& windows) -> std::optional<Segment> {
    const Backings backings = back(about, windows, rules, sure_beside);
    if (!backings.any()) return std::nullopt;
    return observe_all(about, without_strays(about, windows, backings.line()), backings);
  };
  const double offset = std::max(std::abs(run.line(from) - map.base()(from)), std::abs(run.line(to) - map.base()(to)));
  if (offset < kept_offset) return segment_in(map, run.windows);
  // Single samples are kept near the base only.
  FineMatcher& matcher = matcher_for(to - from);
  const double half = matcher.length() / 2;
  const double apart = std::clamp((to - from) / windows_wanted, matcher.length() * 0.75, widest_apart);
  const LagMap own = map_of(pair, run.line, {from - half, to + half}, {apart, most_windows, &matcher});
  if (own.windows() < 3) return std::nullopt;
  return segment_in(own, {0, own.windows() - 1});
}

std::vector<Segment> PairMatcher::follow_candidate(const Pair& pair, const Candidate& candidate) {
  const Extent both = overlap_of(pair.a, pair.b, candidate.line);
  if (both.length() < least_stretch) return {};
  std::optional<Line> line = prove(pair, candidate, both);
  if (!line) return {};
  FineMatcher& matcher = matcher_for(both.length());
  const double apart = std::clamp(both.length() / windows_wanted, matcher.length() * 0.75, widest_apart);
  const double slope_reach = std::min(candidate.slope_reach, 0.03 / both.length());
  const LagMap map = map_of(pair, *line, both, {apart, most_windows, &matcher});
  std::vector<Segment> segments =
      segments_of(pair, map, *line, follow(map, *line, {joins_of(pair.a, pair.b, *line)}), slope_reach);
  for (Segment& segment : segments) {
    segment.coarse = candidate.score;
    set_shares(pair.a, pair.b, map, matcher.length(), segment);
    const Extent heard{segment.from - matcher.length() / 2, segment.to + matcher.length() / 2};
    if (heard.length() > straight_seconds) continue;
    const double apart_short = std::max(heard.length() / windows_wanted, short_.length() * 0.75);
    tell_places_apart(map_of(pair, segment.fit.line, heard, {apart_short, windows_wanted, &short_}), segment);
  }
  return segments;
}

bool PairMatcher::clearly_beside(const LagMap& map, const Run& run, const Segment& segment, const Line& main) {
  const double middle = (segment.from + segment.to) / 2;
  const double jump = std::abs(segment.fit.line(middle) - main(middle));
  if (jump < least_jump || segment.agreed < 4 || 4 * segment.agreed < segment.windows) return false;
  // Hammering has side peaks one blow away, and a blow is 20 to 50 ms.
  if (jump < longest_blow && (segment.agreed < 6 || segment.fit.spread > 0.004 || segment.proof < 12)) return false;
  const Backing on_main = blurred_line(map, run.windows, {.about = main, .near = 0.004});
  return on_main.z < undecided && segment.proof > on_main.z + undecided;
}

std::vector<Segment> PairMatcher::segments_of(const Pair& pair, const LagMap& map, const Line& line,
                                              const std::vector<Run>& runs, double slope_reach) {
  std::vector<Segment> segments;
  const auto weaker = [](const Run& a, const Run& b) { return a.score < b.score; };
  const auto main_run = std::max_element(runs.begin(), runs.end(), weaker);
  if (main_run == runs.end()) return segments;
  Run proven = *main_run;
  if (std::abs(proven.line.lag - line(proven.line.at)) < 2 * near_run) proven.line = line;
  const auto main = segment_of(pair, map, proven, slope_reach);
  if (!main || main->proof < sure.z || !on_one_line(*main)) return segments;
  segments.push_back(*main);
  for (auto run = runs.begin(); run != runs.end(); ++run) {
    if (run == main_run) continue;
    Run parallel = *run;
    parallel.line.slope = main->fit.line.slope;
    const auto segment = segment_of(pair, map, parallel, same_cameras_slope);
    if (segment && clearly_beside(map, *run, *segment, main->fit.line)) segments.push_back(*segment);
  }
  return segments;
}

void PairMatcher::look_beside(const Pair& pair, std::vector<Segment>& proven) {
  if (proven.empty()) return;
  const Segment main = strongest(proven);
  double from = main.from, to = main.to;
  for (const Segment& segment : proven) {
    from = std::min(from, segment.from);
    to = std::max(to, segment.to);
  }
  const Extent both = overlap_of(pair.a, pair.b, main.fit.line);
  for (const Extent& beside : {Extent{both.from, from}, Extent{to, both.to}}) {
    if (beside.length() < 2 * least_stretch) continue;
    FineMatcher& matcher = beside.length() > 16 ? long_ : middle_;
    const double apart = std::max(beside.length() / windows_wanted, matcher.length() * 0.75);
    const LagMap map = map_of(pair, main.fit.line, beside, {apart, windows_wanted, &matcher});
    for (const Run& run : follow(map, main.fit.line, {})) {
      const auto segment = segment_of(pair, map, run, same_cameras_slope);
      if (!segment || !clearly_beside(map, run, *segment, main.fit.line)) continue;
      proven.push_back(*segment);
      proven.back().coarse = main.coarse;
    }
  }
}

PairMatch PairMatcher::match(const Hearable& a, const Hearable& b, const LagRange* range, const std::stop_token& stop) {
  PairMatch match;
  const Pair pair{a, b};
  const auto blocks = blocks_of(*a.frames);
  const auto votes = coarse_.search(*a.frames, blocks, *b.frames, range, 6);
  std::vector<Segment> proven;
  double covered = 0, best_score = 0;
  int tried = 0;
  for (const Candidate& candidate : gather(votes, candidates_tried)) {
    if (candidate.score < least_score || stop.stop_requested()) break;
    const double overlap = overlap_of(a, b, candidate.line).length();
    if (covered > nearly_all * overlap && candidate.score < rival_score * best_score) break;
    for (Segment& segment : follow_candidate(pair, candidate)) {
      covered += segment.to - segment.from;
      proven.push_back(std::move(segment));
    }
    best_score = std::max(best_score, candidate.score);
    if (proven.empty() && ++tried >= (candidate.score < usual_luck ? tried_in_vain - 1 : tried_in_vain)) break;
  }
  look_beside(pair, proven);
  std::stable_sort(proven.begin(), proven.end(), [](const Segment& s, const Segment& t) { return s.proof > t.proof; });
  for (const Segment& segment : proven) {
    const auto& kept = match.segments;
    if (std::any_of(kept.begin(), kept.end(), [&](const Segment& other) { return same_place(segment, other); }))
      continue;
    const auto against =
        std::find_if(kept.begin(), kept.end(), [&](const Segment& other) { return contradict(segment, other); });
    if (against == kept.end()) {
      match.segments.push_back(segment);
    } else if (segment.proof > rival_share * against->proof) {
      match.rivals = {*against, segment};
    }
  }
  if (!explains_enough(match.segments)) {
    match.segments.clear();
    match.rivals.clear();
  }
  if (!match.rivals.empty()) match.segments.clear();
  std::sort(match.segments.begin(), match.segments.end(),
            [](const Segment& s, const Segment& t) { return s.from < t.from; });
  join_pieces(match.segments);
  for (std::size_t i = 0; i + 1 < match.segments.size(); ++i) {
    narrow_jump(short_, *a.hearing, *b.hearing, match.segments[i], match.segments[i + 1]);
  }
  for (const Segment& segment : match.segments) match.overlap += segment.to - segment.from;
  return match;
}

}  // namespace jigtime::sync
