// What a loss has moved: pieces before, after and between what a pair's main line bears out.
#include <algorithm>
#include <cmath>
#include <iterator>

#include "sync/judge.h"
#include "sync/observe.h"
#include "sync/pair.h"
#include "sync/pieces.h"

namespace jigtime::sync {

namespace {

constexpr double least_gap = 10;               // seconds beside what is proven in which a loss can have moved the line
constexpr double least_heard = 3;              // units of Frames::activity in a second, of which noise makes 1.5
constexpr std::size_t fewest_unexplained = 2;  // such windows in a gap worth a look
constexpr std::size_t most_unexplained = 8;
constexpr double proof_to_look = 9;   // of the main line; far off only where it is obvious
constexpr double beyond_track = 0.3;  // seconds from the main line: nearer, its own windows tell
constexpr double worth_a_look = 20;   // seconds of a gap in which noise may hide all that is loud
constexpr std::size_t most_nearby = 16;
constexpr double nearby = 20;  // seconds, more than most losses: among so few lags hardly a bar outdoes the true one
constexpr int close_votes = 4;
constexpr int close_candidates = 2;
/// Of the sum over all windows of a gap, where single ones show little. The outside simulator, one loss at
/// 0 dB: 11.9 at the true place. Own test shop, 40 clips that lost nothing: none was parted.
constexpr Demand in_noise{8.5, 1.7, 5.5};
constexpr double not_hidden = 0.75;          // of the main line's windows: as many show it by themselves without noise
constexpr int fewest_seen = 2;               // that show the place by themselves
constexpr int fewest_in_noise = 6;           // windows
constexpr int fewest_on_main = 3;            // of which that must be known
constexpr double hardly_on_main = 4;         // what such a sum is along the line that the rest lies on
constexpr double clearly_more = 5;           // than that
constexpr double usual_of_shop = 0.008;      // seconds by which such a line may be off
constexpr double little_weight = 0.5;        // of what is known by a sum alone
constexpr double around_candidate = 60;      // seconds
constexpr double askew = 4;                  // times what the slope of a line that holds for all may be off
constexpr std::size_t windows_of_piece = 8;  // looked for elsewhere
constexpr int votes_of_piece = 6;
constexpr int places_of_piece = 3;
constexpr std::size_t most_asked = 4;  // losses of one pair

/// What of an overlap lies between, before and after the segments.
std::vector<Extent> gaps_of(const std::vector<Segment>& segments, const Extent& both) {
  std::vector<Extent> covered;
  for (const Segment& segment : segments) covered.push_back({segment.from, segment.to});
  std::sort(covered.begin(), covered.end(), [](const Extent& x, const Extent& y) { return x.from < y.from; });
  std::vector<Extent> gaps;
  double from = both.from;
  for (const Extent& one : covered) {
    gaps.push_back({from, std::min(one.from, both.to)});
    from = std::max(from, one.to);
  }
  gaps.push_back({from, both.to});
  return gaps;
}

/// Where in b a gap's sound can lie: beyond what the pieces before it hold, and before what those after it hold.
Extent heard_between(const std::vector<Segment>& segments, const Line& line, const Extent& gap) {
  Extent within{gap.from + line(gap.from) - longest_loss, gap.to + line(gap.to) + longest_loss};
  for (const Segment& segment : segments) {
    const double middle = (segment.from + segment.to) / 2;
    if (middle < gap.from) within.from = std::max(within.from, segment.to + segment.fit.line(segment.to));
    if (middle > gap.to) within.to = std::min(within.to, segment.from + segment.fit.line(segment.from));
  }
  return within;
}

/// Middles of a's loudest windows in a stretch, at most so many: along a line that is wrong there, what one clip
/// heard meets silence in the other.
std::vector<double> loudest(const Frames& a, const Extent& gap, std::size_t most) {
  constexpr double length = CloseSearch::window_seconds;
  std::vector<Glimpse> loud;
  for (double t = gap.from + length / 2; t + length / 2 <= gap.to; t += length / 2) {
    const double happens = a.activity(t - length / 2, t + length / 2);
    if (happens >= least_heard * length) loud.push_back({t, happens});
  }
  std::sort(loud.begin(), loud.end(), [](const Glimpse& x, const Glimpse& y) { return x.happens > y.happens; });
  std::vector<double> places;
  for (const Glimpse& one : loud) {
    const auto near = [&](double other) { return std::abs(other - one.at) < length; };
    if (places.size() < most && std::none_of(places.begin(), places.end(), near)) places.push_back(one.at);
  }
  std::sort(places.begin(), places.end());
  return places;
}

/// A piece that single windows hardly show, by the line that their sum bears out.
Segment hidden_piece(const LagMap& map, const Stretch& windows, const Backings& backings) {
  Segment piece = observe(map, windows, backings);
  const Line& line = backings.blurred.line;
  piece.from = map.time(windows.first);
  piece.to = map.time(windows.last);
  piece.observations = {{piece.from, line(piece.from), little_weight}, {piece.to, line(piece.to), little_weight}};
  piece.fit = fit_line(piece.observations, 0, most_slope);
  piece.fit.spread = usual_of_shop;
  return piece;
}

std::vector<Segment> without(std::vector<Segment> pieces, const Segment& piece) {
  std::erase_if(pieces, [&](const Segment& one) { return one.from == piece.from; });
  return pieces;
}

/// Those before and after, of pieces in order.
std::vector<Segment> neighbours_of(const Segment& piece, const std::vector<Segment>& others) {
  std::vector<Segment> neighbours;
  const auto after = std::ranges::upper_bound(others, piece.from, {}, &Segment::from);
  if (after != others.begin()) neighbours.push_back(*std::prev(after));
  if (after != others.end()) neighbours.push_back(*after);
  return neighbours;
}

/// The piece with all of its first and last window.
Extent stretch_of(const Segment& piece) { return {piece.from - half_window, piece.to + half_window}; }

}  // namespace

std::vector<Segment> PairMatcher::prove_part(const Pair& pair, std::span<const Candidate> candidates, Known known,
                                             const std::stop_token& stop) {
  for (const Candidate& candidate : candidates) {
    if (candidate.score < clearly_heard || stop.stop_requested()) continue;
    const Extent both = overlap_of(pair.a, pair.b, candidate.line);
    if (both.length() < 3 * around_candidate) continue;
    const double heard = (candidate.from + candidate.to) / 2, middle = (both.from + both.to) / 2;
    const Extent around{std::max(both.from, heard - around_candidate), std::min(both.to, heard + around_candidate)};
    for (const Extent& stretch : {around, Extent{both.from, middle}, Extent{middle, both.to}}) {
      if (stop.stop_requested()) return {};
      Candidate part = candidate;
      part.from = stretch.from;
      part.to = stretch.to;
      // A loss in the midst makes the line of all askew.
      part.slope_reach = std::min(most_slope, askew * part.slope_reach);
      std::vector<Segment> proven = follow_parts(pair, {&part, 1}, both, known);
      if (!proven.empty()) return proven;
    }
  }
  return {};
}

void PairMatcher::follow_in_gaps(const Pair& pair, const Candidate& candidate, std::vector<Segment>& proven,
                                 bool heard_clearly) {
  const Line main = strongest(proven).fit.line;
  const Extent both = overlap_of(pair.a, pair.b, candidate.line);
  double outside = 1;
  for (const Segment& segment : proven) outside -= segment.within;
  for (const Extent& gap : gaps_of(proven, both)) {
    if (gap.length() < least_gap) continue;
    // The same two cameras: the line of before or after, moved by what was lost.
    const double middle = (gap.from + gap.to) / 2;
    const Line line{candidate.line.at, candidate.line.lag, main.slope};
    const Candidate parallel{
        {middle, line(middle), main.slope}, same_cameras_slope, gap.from, gap.to, candidate.score, candidate.blocks};
    std::vector<Segment> found = follow_candidate(pair, parallel, gap, Known::elsewhere, heard_clearly);
    std::erase_if(found, [](const Segment& segment) { return !explains_gap(segment); });
    if (found.empty()) {
      const Segment& best = strongest(proven);
      const Asked::Question question{main.slope, middle,  parallel.line.lag, gap.from,          gap.to,
                                     best.from,  best.to, best.fit.line.at,  best.fit.line.lag, best.fit.line.slope};
      if (!asked_.in_vain.contains(question)) {
        if (auto hidden = heard_in_noise(pair, parallel, gap, best)) found.push_back(std::move(*hidden));
        if (found.empty()) asked_.in_vain.insert(question);
      }
    }
    for (Segment& segment : found) {
      segment.within *= std::max(0.0, outside);
      segment.explained *= std::max(0.0, outside);
      proven.push_back(std::move(segment));
    }
  }
}

std::optional<Segment> PairMatcher::heard_in_noise(const Pair& pair, const Candidate& candidate, const Extent& gap,
                                                   const Segment& main) {
  if (main.agreed >= not_hidden * main.windows) return std::nullopt;
  FineMatcher& matcher = matcher_for(gap.length());
  const Sampling sampling{apart_over(gap.length(), matcher), windows_wanted, &matcher};
  const LagMap map = map_of(pair, candidate.line, gap, sampling);
  const std::vector<Run> runs = follow(map, candidate.line, {});
  const auto run = std::ranges::max_element(runs, {}, &Run::score);
  if (run == runs.end()) return std::nullopt;
  // Luck may carry it into what lies on the main line.
  const bool after = main.to <= (gap.from + gap.to) / 2;
  for (const int shortened : {0, run->windows.count() / 4, run->windows.count() / 2}) {
    Stretch windows = run->windows;
    (after ? windows.first : windows.last) += after ? shortened : -shortened;
    if (windows.count() < fewest_in_noise) break;
    const Backings backings = back(map, windows, {.about = run->line, .near = near_run}, in_noise);
    if (!backings.by_blurred) break;
    const Extent heard{map.time(windows.first), map.time(windows.last)};
    const double half = matcher.length() / 2;
    const Line& line = main.fit.line;
    const LagMap on_main = map_of(pair, line, {heard.from - half, heard.to + half}, sampling);
    // Where the other clip is silent along the main line, or over, nothing speaks against that.
    if (on_main.windows() < fewest_on_main) break;
    const double main_z = blurred_line(on_main, {0, on_main.windows() - 1}, {.about = line, .near = near_run}).z;
    if (main_z >= hardly_on_main || backings.blurred.z < main_z + clearly_more) continue;
    Segment segment = hidden_piece(map, windows, backings);
    if (segment.agreed < fewest_seen) break;
    segment.coarse = candidate.score;
    set_shares(*pair.a.frames, *pair.b.frames, map, matcher.length(), segment);
    return segment;
  }
  return std::nullopt;
}

void PairMatcher::search_gaps(const Pair& pair, std::vector<Segment>& proven, const std::stop_token& stop) {
  const Segment main = strongest(proven);
  if (main.proof < proof_to_look) return;
  for (const Extent& gap : gaps_of(proven, overlap_of(pair.a, pair.b, main.fit.line))) {
    if (gap.length() < least_gap || stop.stop_requested()) continue;
    std::vector<double> places = loudest(*pair.a.frames, gap, most_nearby);
    if (places.size() < most_nearby / 2 && gap.length() >= worth_a_look) {
      places = windows_to_look_for(pair.a, static_cast<int>(most_nearby), gap);
    }
    if (places.size() < fewest_unexplained) continue;
    const Extent within = heard_between(proven, main.fit.line, gap);
    if (within.length() < CloseSearch::window_seconds) continue;
    const auto follow_all = [&](const std::vector<Candidate>& candidates) {
      const std::size_t before = proven.size();
      for (const Candidate& candidate : candidates) {
        const double middle = (gap.from + gap.to) / 2;
        const double off = std::abs(candidate.line(middle) - main.fit.line(middle));
        if (off >= beyond_track) follow_in_gaps(pair, candidate, proven);
      }
      return proven.size() > before;
    };
    // `search` is made but once for a gap that stays as it is.
    const auto candidates_of = [&](bool far, const auto& search) -> const std::vector<Candidate>& {
      const Line& line = main.fit.line;
      const Asked::Question question{gap.from, gap.to,   within.from, within.to,
                                     line.at,  line.lag, line.slope,  far ? 1.0 : 0.0};
      const auto known = asked_.heard.find(question);
      if (known != asked_.heard.end()) return known->second;
      return asked_.heard[question] = gather(search(), close_candidates);
    };
    const CloseSearch::Near near{main.fit.line, nearby, within};
    const auto search_near = [&] { return close_.search_near(pair.a, pair.b, near, places, close_votes, stop); };
    if (follow_all(candidates_of(false, search_near))) continue;
    if (main.proof < obvious.z || stop.stop_requested()) continue;
    const std::vector<double> few = loudest(*pair.a.frames, gap, most_unexplained);
    if (few.size() < fewest_unexplained) continue;
    follow_all(candidates_of(true, [&] { return close_.search(pair.a, pair.b, within, few, close_votes, stop); }));
  }
}

void PairMatcher::look_beside(const Pair& pair, std::vector<Segment>& proven) {
  if (proven.empty()) return;
  const Segment main = strongest(proven);
  double from = main.from, to = main.to, within = 0;
  for (const Segment& segment : proven) {
    from = std::min(from, segment.from);
    to = std::max(to, segment.to);
    within += segment.within;
  }
  const double outside = std::max(0.0, 1 - within);
  const Extent both = overlap_of(pair.a, pair.b, main.fit.line);
  for (const Extent& beside : {Extent{both.from, from}, Extent{to, both.to}}) {
    if (beside.length() < 2 * least_stretch) continue;
    FineMatcher& matcher = beside.length() > 16 ? long_ : middle_;
    const double apart = std::max(beside.length() / windows_wanted, matcher.length() * 0.75);
    const Sampling sampling{apart, windows_wanted, &matcher};
    const LagMap map = map_of(pair, main.fit.line, beside, sampling);
    for (const Run& run : follow(map, main.fit.line, {})) {
      auto segment = segment_of(pair, map, run, same_cameras_slope);
      if (!segment || !clearly_beside(map, run, *segment, main.fit.line)) continue;
      segment->doubt = doubt_beside(map, *segment, {});
      if (doubtful_jump(*segment, main) > 0) continue;
      const std::optional<LagMap> own = map_about(pair, map, segment->fit.line, beside, sampling);
      set_shares(*pair.a.frames, *pair.b.frames, own ? *own : map, matcher.length(), *segment);
      // The hum of a machine fits itself one turn beside.
      if (jump_between(*segment, main) < longest_blow && segment->audible < hardly_audible) continue;
      segment->coarse = main.coarse;
      segment->within *= outside;
      segment->explained *= outside;
      proven.push_back(std::move(*segment));
    }
  }
}

std::vector<Segment> PairMatcher::heard_elsewhere(const Pair& pair, const Segment& piece, const Segment& main,
                                                  Votes votes, const std::stop_token& stop) {
  const Extent own = stretch_of(piece);
  std::vector<Segment> found;
  for (const Candidate& candidate : gather(std::move(votes), places_of_piece)) {
    const Line line{candidate.line.at, candidate.line.lag, main.fit.line.slope};
    const double middle = (own.from + own.to) / 2;
    if (stop.stop_requested() || std::abs(line(middle) - piece.fit.line(middle)) < two_blows) continue;
    std::ranges::move(proven_in(pair, own, line), std::back_inserter(found));
  }
  return found;
}

std::vector<Segment> PairMatcher::proven_in(const Pair& pair, const Extent& own, const Line& line) {
  const double middle = (own.from + own.to) / 2;
  const Candidate there{{middle, line(middle), line.slope}, same_cameras_slope, own.from, own.to, least_score, 1};
  return follow_candidate(pair, there, own, Known::elsewhere);
}

std::vector<Segment> PairMatcher::heard_on_neighbours(const Pair& pair, const Segment& piece,
                                                      const std::vector<Segment>& neighbours) {
  const bool away_and_back = neighbours.size() == 2 && jump_between(neighbours[0], neighbours[1]) < another_bar;
  const double share = away_and_back ? rival_share : 1;
  for (const Segment& neighbour : neighbours) {
    if (jump_between(piece, neighbour) < another_bar) continue;
    std::vector<Segment> there = proven_in(pair, stretch_of(piece), neighbour.fit.line);
    if (there.empty() || jump_between(strongest(there), neighbour) >= two_blows) continue;
    const Segment& best = strongest(there);
    if (best.proof > share * piece.proof && best.agreed >= share * piece.agreed) return there;
  }
  return {};
}

PairMatcher::Elsewhere PairMatcher::doubt(const Pair& pair, const Segment& piece, const std::vector<Segment>& others,
                                          const std::stop_token& stop) {
  const Extent own = stretch_of(piece);
  const std::vector<double> windows = loudest(*pair.a.frames, own, windows_of_piece);
  if (windows.size() < fewest_unexplained) return {};
  // Before and after what the other pieces hold of b.
  const Extent within = heard_between(others, piece.fit.line, own);
  Votes votes = close_.search(pair.a, pair.b, within, windows, votes_of_piece, stop, CloseSearch::Sound::as_it_is);
  Elsewhere found;
  found.on_another_line = std::ranges::any_of(others, [&](const Segment& other) {
    return jump_between(piece, other) >= another_bar && vote_for_another(votes, piece.fit.line, other.fit.line);
  });
  if (found.on_another_line) return found;
  // Its own proof may be of the whole overlap's windows, which lie farther apart.
  Segment measured = piece;
  for (const Segment& one : proven_in(pair, own, piece.fit.line)) {
    if (jump_between(one, piece) < two_blows && one.proof > measured.proof) measured = one;
  }
  found.instead = heard_on_neighbours(pair, measured, neighbours_of(piece, others));
  found.on_another_line = !found.instead.empty();
  if (found.on_another_line) return found;
  for (const Segment& segment : heard_elsewhere(pair, piece, strongest(others), std::move(votes), stop)) {
    const auto on_line_of = [&](const Segment& other) { return jump_between(segment, other) < two_blows; };
    if (std::ranges::any_of(others, on_line_of)) {
      const bool better = segment.proof > measured.proof && segment.agreed >= measured.agreed;
      found.on_another_line = found.on_another_line || better;
    } else if (segment.proof > rival_share * measured.proof) {
      found.rival = segment;
      break;
    }
  }
  return found;
}

std::vector<Segment> PairMatcher::doubt_losses(const Pair& pair, std::vector<Segment>& pieces,
                                               const std::stop_token& stop) {
  if (pieces.size() < 2) return {};
  std::vector<Segment> asked{strongest(pieces)};
  std::vector<Segment> in_doubt = pieces;
  // Those half a second or more from the pieces before and after come first.
  std::ranges::stable_partition(in_doubt, [&](const Segment& piece) {
    return std::ranges::none_of(neighbours_of(piece, without(pieces, piece)),
                                [&](const Segment& one) { return jump_between(piece, one) < another_bar; });
  });
  for (const Segment& piece : in_doubt) {
    if (asked.size() > most_asked || stop.stop_requested()) break;
    const auto on_its_line = [&](const Segment& one) { return jump_between(piece, one) < least_jump; };
    if (std::ranges::any_of(asked, on_its_line)) continue;
    asked.push_back(piece);
    std::vector<Segment> others = without(pieces, piece);
    const Elsewhere found = doubt(pair, piece, others, stop);
    if (found.rival) return {piece, *found.rival};
    if (!found.on_another_line) continue;
    pieces = std::move(others);
    for (Segment one : found.instead) {
      const auto against = [&](const Segment& other) { return contradict(one, other); };
      if (std::ranges::any_of(pieces, against)) continue;
      one.within *= piece.within;
      one.explained *= piece.within;
      pieces.insert(std::ranges::upper_bound(pieces, one.from, {}, &Segment::from), std::move(one));
    }
  }
  return {};
}

}  // namespace jigtime::sync
