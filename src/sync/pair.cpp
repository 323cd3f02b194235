#include "sync/pair.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "sync/echoes.h"
#include "sync/hidden_jump.h"
#include "sync/judge.h"
#include "sync/jump.h"
#include "sync/leaning.h"
#include "sync/loud_half.h"
#include "sync/observe.h"
#include "sync/parts.h"
#include "sync/pieces.h"
#include "sync/standing.h"

namespace jigtime::sync {

namespace {

constexpr int tried_in_vain = 3;     // without any proof: the true place is rarely the fourth
constexpr double nearly_all = 0.8;   // of an overlap covered by what is proven already
constexpr double rival_score = 0.6;  // of the coarse search, against the best: could be another place as good
constexpr double widest_apart = 20;  // seconds between windows along a line
constexpr int most_windows = 800;
constexpr int windows_to_prove = 32;
constexpr int most_to_prove = 96;
/// Of half the windows. The outside simulator, 40 sessions: of 302 lines proven in the end one was below both, of 803
/// that were not 387.
constexpr double hopeless = 4.5, hopeless_sharp = 5.2;
constexpr double promising = 5, promising_sharp = 6;  // more than what luck often gives
constexpr Demand sure{7, 1.35, 4.5};
/// In a gap of what is proven, where the coarse search heard the place clearly: a minute may hold but one loud event.
constexpr Demand sure_if_heard{7, 1.35, 3};
/// Of either sum over all windows, where single ones show little. Own simulation, 131 lines of clips that do not belong
/// together: the lesser of the two is 8.8 at the most.
constexpr Demand by_both{10, 1.8, 7};
constexpr double scattered = 10;
constexpr int enough_to_scatter = 8;  // windows: of fewer on one line luck may have as many
/// Own simulation: in doubt of a blow, 4.6 and more where clips belong together, 1.9 and less where they do not.
constexpr double least_blurred = 3.3;
constexpr int most_hidden_jumps = 4;
constexpr double clearest = 8;           // no one window decides
constexpr double undecided = 5;          // standard errors that tell one of two lines
constexpr double most_agree = 0.72;      // of all windows, undisputed
constexpr double louder_if_hard = 1.05;  // where little explains it, what is loud must fit as often as the rest
constexpr int fewest_lean = 3;           // windows that agree, for others to lean to
/// In both clips. Of fewer, where the coarse search finds places as good, a machine has told the line; and microphones
/// in different places of a shop need not hear the same onset of its turn. The outside simulator, a compressor of 12
/// turns a second: 39 ms beside, all windows within 2 ms.
constexpr int fewest_blows = 4;
constexpr double half_a_turn = 0.045;  // seconds, of the slowest compressors (common practice: 700 turns a minute)
constexpr double kept_offset = 0.12;   // seconds from a map's base within which its samples serve

double farthest_from(const Line& base, const Line& line, const Extent& within) {
  const auto apart = [&](double t) { return std::abs(line(t) - base(t)); };
  return std::max(apart(within.from), apart(within.to));
}

/// A machine's hum, or another's of its kind on another day, fits itself at every turn; but nothing goes on together.
bool only_hums(const LagMap& map, const Segment& main) {
  const LineRules rules{.about = main.fit.line, .near = same_sound};
  return blurred_line(map, {0, map.windows() - 1}, rules).z < least_blurred;
}

bool proven_by_both(const LagMap& map, const Line& line) {
  const Stretch all{0, map.windows() - 1};
  const LineRules rules{.about = line, .near = same_sound};
  return holds(blurred_line(map, all, rules), by_both) && holds(sharp_line(map, all, rules), by_both);
}

/// The run on either side of a jump that it was followed through; where exactly, the windows say.
std::vector<Run> halves_of(const LagMap& map, const Run& run, const HiddenJump& jump) {
  const auto heard_on = [&](const Line& line, int w) { return map.highest(w, line(map.time(w)), same_sound).z; };
  double score = 0, most = 0;
  int last = run.windows.first;
  for (int w = run.windows.first; w < run.windows.last; ++w) {
    score += std::min(clearest, heard_on(jump.before, w)) - std::min(clearest, heard_on(jump.after, w));
    if (score <= most) continue;
    most = score;
    last = w;
  }
  const Stretch before{run.windows.first, last}, after{last + 1, run.windows.last};
  const auto share = [&](const Stretch& part) { return run.score * part.count() / run.windows.count(); };
  return {{before, jump.before, share(before)}, {after, jump.after, share(after)}};
}

}  // namespace

Extent overlap_of(const Hearable& a, const Hearable& b, const Line& line) {
  const double lag = line((a.from + a.to) / 2);
  Extent both{std::max(a.from, b.from - lag), std::min(a.to, b.to - lag)};
  if (both.length() <= 0) return both;
  // Once more with the lag of either end: over hours the slope moves it by a second.
  both = {std::max(a.from, b.from - line(both.from)), std::min(a.to, b.to - line(both.to))};
  return both;
}

PairMatcher::PairMatcher() : long_{64000, 1.0}, middle_{32000, 1.0}, short_{16000, 1.0} {}

double PairMatcher::apart_over(double length, const FineMatcher& matcher) {
  return std::clamp(length / windows_wanted, matcher.length() * 0.75, widest_apart);
}

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

std::optional<LagMap> PairMatcher::map_about(const Pair& pair, const LagMap& map, const Line& line,
                                             const Extent& within, const Sampling& sampling) {
  if (farthest_from(map.base(), line, within) < kept_offset) return std::nullopt;
  return map_of(pair, line, within, sampling);
}

std::optional<Line> PairMatcher::prove(const Pair& pair, const Candidate& candidate, const Extent& both,
                                       const Demand& demand) {
  FineMatcher& matcher = matcher_for(both.length());
  const double apart = std::max(both.length() / most_to_prove, matcher.length() * 0.75);
  const auto most_eventful = [&](int count) {
    return eventful_places(*pair.a.frames, *pair.b.frames, candidate.line,
                           {both.from, both.to, matcher.length(), apart, count});
  };
  LagMap map{candidate.line, matcher.reach() - 0.001};
  const auto add = [&](double place) {
    const double middle = matcher.match(*pair.a.hearing, *pair.b.hearing, place, candidate.line);
    map.add(middle, matcher.lags(), matcher.middle_lag());
  };
  const LineRules rules{.about = candidate.line, .slope_reach = candidate.slope_reach};
  const auto all_together = [&] { return back(map, {0, map.windows() - 1}, rules, demand); };
  const auto places = most_eventful(windows_to_prove);
  Backings backings;
  // Every fourth window first, then every other: the obvious and the hopeless are left with a part of the work.
  constexpr std::array<std::pair<std::size_t, std::size_t>, 3> rounds{{{0, 4}, {2, 4}, {1, 2}}};  // first, step
  for (const auto& [first, step] : rounds) {
    for (std::size_t i = first; i < places.size(); i += step) add(places[i]);
    if (map.windows() < 2) continue;
    backings = all_together();
    if (holds(backings.sharp, obvious) || holds(backings.blurred, obvious)) return backings.line();
    const bool in_vain = backings.blurred.z < hopeless && backings.sharp.z < hopeless_sharp;
    if (first == 2 && places.size() > 12 && in_vain) return std::nullopt;
  }
  // Where noise leaves little in each window, many may tell what few do not.
  if (!backings.any() && (backings.sharp.z >= promising_sharp || backings.blurred.z >= promising)) {
    for (const double place : most_eventful(most_to_prove)) {
      if (!std::ranges::binary_search(places, place)) add(place);
    }
    backings = all_together();
  }
  return backings.any() ? std::optional{backings.line()} : std::nullopt;
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
  if (farthest_from(map.base(), run.line, {from, to}) < kept_offset) return segment_in(map, run.windows);
  // Single samples are kept near the base only.
  FineMatcher& matcher = matcher_for(to - from);
  const double half = matcher.length() / 2;
  const double apart = apart_over(to - from, matcher);
  const LagMap own = map_of(pair, run.line, {from - half, to + half}, {apart, most_windows, &matcher});
  if (own.windows() < 3) return std::nullopt;
  return segment_in(own, {0, own.windows() - 1});
}

/// Windows that scatter may belong to clips that only sound alike; but not where the two are known to belong together,
/// or where none of the lags around stands out as these do. Shorter windows tell sounds of different places apart. And
/// what is no song need not lie on one line.
bool PairMatcher::well_proven(const Pair& pair, const LagMap& map, const Segment& main, const Extent& within,
                              Known known) {
  if (main.proof < sure.z) return false;
  if (on_one_line(main) || (known != Known::nothing && main.proof >= scattered)) return true;
  const Line& line = main.fit.line;
  const Standing standing = standing_of(map, line);
  if (stands_out(standing) || (!outdone(standing) && proven_by_both(map, line))) return true;
  const bool closer = std::ranges::any_of(std::array{&middle_, &short_}, [&](FineMatcher* matcher) {
    const Sampling sampling{apart_over(within.length(), *matcher), windows_wanted, matcher};
    return stands_out(standing_of(map_of(pair, line, within, sampling), line));
  });
  if (closer || known != Known::nothing || outdone(standing)) return closer;
  return only_loud_agrees(loud_half(*pair.a.hearing, *pair.b.hearing, within, {&main, 1}, short_));
}

std::vector<Segment> PairMatcher::follow_candidate(const Pair& pair, const Candidate& candidate, const Extent& within,
                                                   Known known, bool heard_clearly) {
  if (within.length() < least_stretch) return {};
  const Line& line = candidate.line;
  const Asked::Question question{line.at,
                                 line.lag,
                                 line.slope,
                                 candidate.slope_reach,
                                 within.from,
                                 within.to,
                                 static_cast<double>(known),
                                 heard_clearly ? 1.0 : 0.0,
                                 candidate.score};
  if (const auto told = asked_.followed.find(question); told != asked_.followed.end()) return told->second;
  return asked_.followed[question] = follow_anew(pair, candidate, within, known, heard_clearly);
}

std::vector<Segment> PairMatcher::follow_anew(const Pair& pair, const Candidate& candidate, const Extent& within,
                                              Known known, bool heard_clearly) {
  std::optional<Line> line = prove(pair, candidate, within, heard_clearly ? sure_if_heard : sure);
  if (!line) return {};
  FineMatcher& matcher = matcher_for(within.length());
  const double apart = apart_over(within.length(), matcher);
  const double slope_reach = std::min(candidate.slope_reach, 0.03 / within.length());
  const Sampling sampling{apart, most_windows, &matcher};
  const LagMap map = map_of(pair, *line, within, sampling);
  const std::vector<double> joins = joins_of(pair.a, pair.b, *line);
  Candidate whole = candidate;
  whole.line = *line;
  const std::vector<Candidate> parts = parted_at(map, whole, matcher.length() / 2, joins);
  std::vector<Segment> of_parts = follow_parts(pair, parts, within, known, &map);
  if (!of_parts.empty()) return of_parts;
  std::vector<Segment> segments = segments_of(pair, map, *line, follow(map, *line, {joins}), slope_reach);
  if (segments.empty()) return {};
  std::optional<LagMap> own = map_about(pair, map, segments.front().fit.line, within, sampling);
  if (!well_proven(pair, own ? *own : map, segments.front(), within, known)) return {};
  doubt_blows(map, segments);
  if (segments.front().doubt > 0 && only_hums(map, segments.front())) return {};
  for (Segment& segment : segments) {
    if (&segment != &segments.front()) own = map_about(pair, map, segment.fit.line, within, sampling);
    segment.coarse = candidate.score;
    set_shares(*pair.a.frames, *pair.b.frames, own ? *own : map, matcher.length(), segment);
    segment.leans = segment.agreed >= fewest_lean && loud_leans(own ? *own : map, segment);
    const Extent heard{segment.from - matcher.length() / 2, segment.to + matcher.length() / 2};
    if (heard.length() > straight_seconds) continue;
    const double apart_short = std::max(heard.length() / windows_wanted, short_.length() * 0.75);
    tell_places_apart(map_of(pair, segment.fit.line, heard, {apart_short, windows_wanted, &short_}), segment);
  }
  return segments;
}

std::vector<Segment> PairMatcher::follow_parts(const Pair& pair, std::span<const Candidate> parts, const Extent& within,
                                               Known known, const LagMap* whole) {
  std::vector<Segment> segments;
  for (const Candidate& part : parts) {
    std::ranges::move(follow_candidate(pair, part, {part.from, part.to}, known), std::back_inserter(segments));
  }
  // Each is a part of all that both heard.
  FineMatcher& matcher = matcher_for(within.length());
  const Sampling sampling{apart_over(within.length(), matcher), most_windows, &matcher};
  for (Segment& segment : segments) {
    const std::optional<LagMap> own = whole != nullptr ? map_about(pair, *whole, segment.fit.line, within, sampling)
                                                       : map_of(pair, segment.fit.line, within, sampling);
    const LagMap& all = own ? *own : *whole;
    set_shares(*pair.a.frames, *pair.b.frames, all, matcher.length(), segment);
    segment.leans = segment.leans && loud_leans(all, segment);
  }
  return segments;
}

bool PairMatcher::clearly_beside(const LagMap& map, const Run& run, const Segment& segment, const Line& main) {
  const double middle = (segment.from + segment.to) / 2;
  const double jump = std::abs(segment.fit.line(middle) - main(middle));
  if (jump < least_jump || segment.agreed < 4 || 4 * segment.agreed < segment.windows) return false;
  // A song agrees with itself at many places, but scattered.
  if (segment.proof < scattered && segment.agreed >= enough_to_scatter && !on_one_line(segment)) return false;
  // Hammering has side peaks one blow away, and a blow is 20 to 50 ms.
  if (jump < longest_blow && (segment.agreed < 6 || segment.fit.spread > 0.004 || segment.proof < 12)) return false;
  const Backing on_main = blurred_line(map, run.windows, {.about = main, .near = 0.004});
  return on_main.z < undecided && segment.proof > on_main.z + undecided;
}

std::vector<Segment> PairMatcher::segments_of(const Pair& pair, const LagMap& map, const Line& line,
                                              std::vector<Run> runs, double slope_reach) {
  std::vector<Segment> segments;
  const auto weaker = [](const Run& a, const Run& b) { return a.score < b.score; };
  std::optional<Segment> main;
  auto main_run = runs.end();
  for (int jumps = 0;; ++jumps) {
    main_run = std::max_element(runs.begin(), runs.end(), weaker);
    if (main_run == runs.end()) return segments;
    Run proven = *main_run;
    if (jumps == 0 && std::abs(proven.line.lag - line(proven.line.at)) < 2 * near_run) proven.line = line;
    main = segment_of(pair, map, proven, slope_reach);
    if (!main) return segments;
    const auto hidden = hidden_jump(main->observations);
    if (!hidden || jumps == most_hidden_jumps) break;
    const auto halves = halves_of(map, *main_run, *hidden);
    runs.insert(runs.erase(main_run), halves.begin(), halves.end());
  }
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

std::vector<Segment> PairMatcher::prove_all(const Pair& pair, std::span<const Candidate> candidates,
                                            std::span<const Candidate> others, Known known,
                                            const std::stop_token& stop) {
  std::vector<Segment> proven;
  std::vector<Candidate> unproven;
  double covered = 0, best_score = 0;
  int tried = 0;
  for (const Candidate& candidate : candidates) {
    if (candidate.score < least_score || stop.stop_requested()) break;
    const Extent both = overlap_of(pair.a, pair.b, candidate.line);
    const std::size_t before = proven.size();
    // What was heard along a proven piece is followed in the gaps, if at all. Where clocks or others tell the place
    // each try at it may prove it better, which is what other places are held against.
    if (known == Known::nothing && heard_along(candidate, proven)) {
      unproven.push_back(candidate);
      continue;
    }
    if (covered <= nearly_all * both.length() || candidate.score >= rival_score * best_score ||
        heard_better(candidate, candidates, proven)) {
      for (Segment& segment : follow_candidate(pair, candidate, both, known)) {
        covered += segment.to - segment.from;
        proven.push_back(std::move(segment));
      }
    }
    if (proven.size() == before) unproven.push_back(candidate);
    best_score = std::max(best_score, candidate.score);
    if (proven.empty() && ++tried >= (candidate.score < more_than_luck ? tried_in_vain - 1 : tried_in_vain)) break;
  }
  // Where others prove that the two ran together nothing else guards against a bar of music.
  if (proven.empty() && known != Known::elsewhere) {
    proven = prove_part(pair, candidates, known, stop);
    unproven.assign(candidates.begin(), candidates.end());
  }
  // What the sound itself was asked for may be a bar of music beside the place.
  for (const Candidate& other : others) {
    if (proven.empty() || other.score < more_than_luck || stop.stop_requested()) break;
    if (std::ranges::any_of(proven, [&](const Segment& one) { return lies_at(one, other); })) continue;
    std::ranges::move(follow_candidate(pair, other, overlap_of(pair.a, pair.b, other.line), known),
                      std::back_inserter(proven));
  }
  part_all(proven);
  // Where the sound itself or others said where to look, the candidates' scores are not the coarse search's alone.
  const bool coarse = known == Known::nothing && others.empty();
  // What is found in a gap, or beside it, leaves smaller ones. The sound itself, which costs most, is not asked again
  // for what lies beside.
  bool looked_beside = false;
  for (std::size_t before = 0; proven.size() > before && !stop.stop_requested();) {
    while (proven.size() > before && !stop.stop_requested()) {
      before = proven.size();
      for (const Candidate& candidate : unproven) {
        if (stop.stop_requested()) break;
        follow_in_gaps(pair, candidate, proven, coarse && candidate.score >= clearly_heard);
      }
      if (!looked_beside) search_gaps(pair, proven, stop);
    }
    look_beside(pair, proven);
    looked_beside = true;
  }
  return proven;
}

void PairMatcher::finish(const Pair& pair, std::vector<Segment>& pieces) {
  join_pieces(pieces);
  for (std::size_t i = 0; i + 1 < pieces.size(); ++i) {
    narrow_jump(short_, *pair.a.hearing, *pair.b.hearing, pieces[i], pieces[i + 1]);
    keep_apart(pieces[i], pieces[i + 1]);
  }
}

PairMatch PairMatcher::match(const Hearable& a, const Hearable& b, std::span<const Candidate> candidates,
                             const std::stop_token& stop, Known known, std::span<const Candidate> others) {
  PairMatch match;
  asked_ = {};
  std::vector<Segment> proven = prove_all({a, b}, candidates, others, known, stop);
  Settled settled = settle(proven);
  const auto places = others.empty() ? candidates : others;
  // Where others tell that the two ran together nothing else guards against a bar of music beyond what seems a loss;
  // nor where pieces lie as far apart as bars do, or the coarse search heard the other pieces' places nearly as well as
  // the strongest one's.
  const bool bars = known == Known::elsewhere || a_bar_apart(settled.pieces) ||
                    alike_elsewhere(places, settled.pieces) ||
                    (settled.pieces.size() > 1 && likely_elsewhere(places, {strongest(settled.pieces)}));
  std::vector<Segment> lost_elsewhere;
  if (bars) lost_elsewhere = doubt_losses({a, b}, settled.pieces, stop);
  if (settled.pieces.size() == 1) count_fringe(settled.pieces.front());
  const auto& pieces = settled.pieces;
  if (pieces.empty()) return match;
  const Standing standing = standing_of(pieces);
  const Agreement agreeing = agreement(pieces);
  const bool hard_to_hear = !explains_enough(pieces) || (known == Known::nothing && goes_on_unmatched(pieces));
  const bool leaning = leans(pieces);
  const bool alone = stands_alone(standing);
  const Extent both{overlap_of(a, b, pieces.front().fit.line).from, overlap_of(a, b, pieces.back().fit.line).to};
  // Asked only where the pair would be refused else.
  std::optional<bool> asked;
  const auto loud_alone_agrees = [&] {
    if (!asked) asked = only_loud_agrees(loud_half(*a.hearing, *b.hearing, both, pieces, short_));
    return *asked;
  };
  std::optional<Blows> counted;
  const auto blows = [&]() -> const Blows& {
    if (!counted) counted = blows_along(*a.frames, *b.frames, pieces, both);
    return *counted;
  };
  const auto of_one_day = [&] { return blows_agree(blows()) || loudest_agree(blows()) || loud_alone_agrees(); };
  bool doubted = hard_to_hear && !leaning && !alone && !of_one_day();
  if (doubted && known != Known::nothing) return match;
  if (known == Known::nothing && !doubted) {
    const bool goes_on = goes_on_alone(pieces) && !leaning;
    const bool all_blows = blows_agree(blows()) && both.length() > longest_song;
    const bool fits_elsewhere =
        agreeing.undisputed < most_agree && outdone(standing) && !all_blows && !many_loudest_agree(blows());
    const bool other_work = goes_on || fits_elsewhere || work_alone(blows(), both.length(), agreeing.undisputed);
    // Blows that agree do not excuse it: what goes on beside the pieces may be dull, and no blow.
    doubted = other_work && !loud_alone_agrees();
  }
  std::vector<Segment> rivals = std::move(settled.rivals.empty() ? lost_elsewhere : settled.rivals);
  if (!rivals.empty()) {
    if (!doubted) match.rivals = std::move(rivals);
    return match;
  }
  // Where nearly all windows agree, work agrees too, unless they agree elsewhere as well.
  const bool nearly_all_do = !hard_to_hear && agreeing.undisputed >= nearly_all_agree;
  if (known == Known::nothing && nearly_all_do && only_repeats(proven, as_well) && !loud_alone_agrees()) return match;
  if (known == Known::by_clocks && only_repeats(proven, as_well)) return match;
  if (known == Known::nothing && !nearly_all_do) {
    const double in_doubt = hard_to_hear ? 1 : share_alone(pieces) + share_outdone(standing);
    const double rest = agreeing.all * (hard_to_hear ? louder_if_hard : 1);
    doubted = doubted || (in_doubt >= doubtful && !leaning && !louder_agrees(pieces, rest) && !of_one_day());
    const double agreeing_blows = blows_agree(blows()) ? blows().share_heard() : 0;
    const Repeats repeats =
        repeats_itself({a, b}, places, std::move(proven), pieces, {in_doubt, alone, agreeing_blows}, stop);
    if (repeats == Repeats::as_well) return match;
    doubted = doubted || repeats == Repeats::less_well;
  }
  if (likely_elsewhere(places, pieces) && blows().events() < fewest_blows) {
    for (Segment& segment : settled.pieces) segment.doubt = std::max(segment.doubt, half_a_turn);
  }
  std::vector<Segment>& told = doubted ? match.doubted : match.segments;
  told = std::move(settled.pieces);
  std::vector<Segment> all = told;
  leave_out_blows(told);
  if (told.size() < all.size()) {
    finish({a, b}, all);
    for (Segment& segment : all) segment.glimpses.clear();
    match.with_blows = std::move(all);
  }
  finish({a, b}, told);
  look_for_unmatched({a, b}, told, match);
  for (Segment& segment : told) segment.glimpses.clear();
  match.overlap = length_of(match.segments);
  return match;
}

}  // namespace jigtime::sync
