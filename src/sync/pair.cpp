#include "sync/pair.h"

#include <algorithm>
#include <cmath>

#include "sync/jump.h"
#include "sync/track.h"

namespace jigtime::sync {

namespace {

constexpr double reach = 0.12;     // seconds around a coarse lag in which the fine one is looked for
constexpr double least_score = 6;  // of a coarse candidate worth a fine look
constexpr int candidates_tried = 6;
constexpr int proof_windows = 24;
constexpr double proof_log10_chance = -5;
constexpr int least_agreed = 4;
constexpr double track_apart = 20;  // seconds between windows along a proven line
constexpr int track_windows = 600;
constexpr double rival_share = 0.6;   // as much of the winner's proof makes another place a rival
constexpr double shared_seconds = 6;  // two segments may share that much: where a jump lies is known no better
constexpr double least_stretch = 6;   // seconds in which anything can be proven
constexpr Stretch everywhere{-1e9, 1e9};
constexpr double wide_reach = 1.5;  // of the look for a jump that the coarse search does not tell from the main line
constexpr double beside_slope = 50e-6;
constexpr double least_jump = 0.03;  // seconds; what differs by less is another place in the shop

Stretch overlap_of(const Hearable& a, const Hearable& b, const Line& line) {
  const double lag = line((a.from + a.to) / 2);
  Stretch both{std::max(a.from, b.from - lag), std::min(a.to, b.to - lag)};
  if (both.length() <= 0) return both;
  // Once more with the lag of either end: over hours the slope moves it by a second.
  both = {std::max(a.from, b.from - line(both.from)), std::min(a.to, b.to - line(both.to))};
  return both;
}

Segment segment_of(const Run& run, const Candidate& candidate) {
  Segment segment;
  segment.observations = run.observations;
  segment.from = run.observations.front().at;
  segment.to = run.observations.back().at;
  segment.fit = fit_line(run.observations, candidate.line.slope, 60e-6);
  segment.agreed = static_cast<int>(run.observations.size());
  segment.z = candidate.score;
  return segment;
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
  return shared(s.from, s.to, t.from, t.to) > 0 && std::abs(s.fit.line(middle) - t.fit.line(middle)) < 0.05;
}

}  // namespace

PairMatcher::PairMatcher()
    : long_{65536, reach}, middle_{32768, reach}, short_{16384, reach}, wide_{32768, wide_reach} {}

FineMatcher& PairMatcher::matcher_for(double overlap) { return overlap > 60 ? long_ : overlap > 16 ? middle_ : short_; }

std::vector<Segment> PairMatcher::prove(const Hearable& a, const Hearable& b, const Candidate& candidate,
                                        const Stretch& within) {
  const Stretch all = overlap_of(a, b, candidate.line);
  const Stretch both{std::max(all.from, within.from), std::min(all.to, within.to)};
  if (both.length() < least_stretch) return {};
  FineMatcher& matcher = matcher_for(both.length());
  std::vector<Window> windows;
  const auto match_at = [&](const std::vector<double>& places, const Line& line) {
    windows.clear();
    for (const double at : places) windows.push_back(matcher.match(*a.hearing, *b.hearing, at, line));
  };
  match_at(
      eventful_places(*a.frames, *b.frames, candidate.line, both.from, both.to, matcher.length(), 0, proof_windows),
      candidate.line);
  const Consensus proof = agree(windows, candidate.line, {reach, candidate.slope_reach, 5});
  if (proof.log10_chance > proof_log10_chance || static_cast<int>(proof.agreed.size()) < least_agreed) return {};
  match_at(eventful_places(*a.frames, *b.frames, proof.line, both.from, both.to, matcher.length(),
                           std::min(track_apart, both.length() / 24), track_windows),
           proof.line);
  std::vector<Segment> segments;
  const TrackRules rules;
  for (const Run& whole : follow(windows, proof.line, rules)) {
    const Run run = without_strays(whole, windows, rules);
    if (static_cast<int>(run.observations.size()) < rules.least_windows) continue;
    segments.push_back(segment_of(run, candidate));
    segments.back().windows = static_cast<int>(std::count_if(windows.begin(), windows.end(), [&](const Window& w) {
      return w.at >= segments.back().from && w.at <= segments.back().to;
    }));
    segments.back().log10_chance = proof.log10_chance;
  }
  return segments;
}

void PairMatcher::look_beside(const Hearable& a, const Hearable& b, std::vector<Segment>& proven) {
  if (proven.empty()) return;
  const Segment main = *std::max_element(proven.begin(), proven.end(),
                                         [](const Segment& s, const Segment& t) { return s.agreed < t.agreed; });
  const Stretch both = overlap_of(a, b, main.fit.line);
  for (const Stretch& beside : {Stretch{both.from, main.from}, Stretch{main.to, both.to}}) {
    if (beside.length() < least_stretch) continue;
    std::vector<Window> windows;
    for (const double at : eventful_places(*a.frames, *b.frames, main.fit.line, beside.from, beside.to, wide_.length(),
                                           0, proof_windows)) {
      windows.push_back(wide_.match(*a.hearing, *b.hearing, at, main.fit.line));
    }
    const Consensus found = agree(windows, main.fit.line, {wide_reach, beside_slope, 5});
    if (found.log10_chance > proof_log10_chance || static_cast<int>(found.agreed.size()) < least_agreed) continue;
    const double middle = (beside.from + beside.to) / 2;
    if (std::abs(found.line(middle) - main.fit.line(middle)) < least_jump) continue;
    const Candidate candidate{.line = found.line, .slope_reach = beside_slope, .score = main.z};
    for (Segment& segment : prove(a, b, candidate, beside)) {
      if (2 * segment.agreed >= segment.windows) proven.push_back(std::move(segment));
    }
  }
}

PairMatch PairMatcher::match(const Hearable& a, const Hearable& b, const LagRange* range, const std::stop_token& stop) {
  PairMatch match;
  const auto blocks = blocks_of(*a.frames);
  const auto votes = coarse_.search(*a.frames, blocks, *b.frames, range, 6);
  std::vector<Segment> proven;
  for (const Candidate& candidate : gather(votes, candidates_tried)) {
    if (candidate.score < least_score || stop.stop_requested()) break;
    for (Segment& segment : prove(a, b, candidate, everywhere)) proven.push_back(std::move(segment));
  }
  look_beside(a, b, proven);
  std::stable_sort(proven.begin(), proven.end(),
                   [](const Segment& s, const Segment& t) { return s.agreed > t.agreed; });
  for (const Segment& segment : proven) {
    const auto& kept = match.segments;
    if (std::any_of(kept.begin(), kept.end(), [&](const Segment& other) { return same_place(segment, other); }))
      continue;
    const auto against =
        std::find_if(kept.begin(), kept.end(), [&](const Segment& other) { return contradict(segment, other); });
    if (against == kept.end()) {
      match.segments.push_back(segment);
    } else if (segment.agreed > rival_share * against->agreed) {
      match.rivals = {*against, segment};
    }
  }
  if (!match.rivals.empty()) match.segments.clear();
  std::sort(match.segments.begin(), match.segments.end(),
            [](const Segment& s, const Segment& t) { return s.from < t.from; });
  for (std::size_t i = 0; i + 1 < match.segments.size(); ++i) {
    narrow_jump(short_, *a.hearing, *b.hearing, match.segments[i], match.segments[i + 1]);
  }
  for (const Segment& segment : match.segments) match.overlap += segment.to - segment.from;
  return match;
}

}  // namespace jigtime::sync
