#include "sync/judge.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "signal/statistics.h"
#include "sync/hearable.h"
#include "sync/observe.h"
#include "sync/standing.h"

namespace jigtime::sync {

namespace {

constexpr double one_shop = 0.008;        // seconds around a line: most sounds of a shop
constexpr double one_shop_chance = 0.45;  // of a lag that says nothing to lie there
constexpr double surely_together = -1.3;
constexpr double one_place = 0.0005;       // seconds around a line: one way of the sound
constexpr double one_place_chance = 0.06;  // of a lag that says nothing to lie there
constexpr double surely_one_place = -3;
constexpr double clear_reach = 0.015;
constexpr double least_closely = 0.0005;
constexpr double least_explained = 0.6;
constexpr double least_within = 0.72;
constexpr double least_explained_within = 0.5;
constexpr double least_of_gap = 0.6;        // of what both heard there
constexpr double least_part_of_gap = 0.35;  // if it explains nearly all of that part
constexpr double least_of_part = 0.8;
constexpr double least_agreed_of_gap = 0.6;  // of the windows, where the piece stands out
constexpr double noise_activity = 1.5;       // in a second, by noise alone
constexpr int few_windows = 12;
constexpr double least_agreed_of_few = 0.75;  // of the windows that are as loud as those that agree
constexpr double least_agreed = 0.55;
constexpr double least_usual = 10;  // units of Frames::activity: less is mostly noise
/// Windows beyond the match that one clip hears loudly and the other does not agree to, for each that agreed. Own
/// simulation: one true pair in a hundred has as many, and songs of two days have them where little else is heard.
constexpr double most_alone = 0.6;
/// Such windows, where the rest leans. Another simulation, a song under talk on two days: 1.2. Own simulation, 80 pairs
/// of one day at 0 dB: two have more.
constexpr double most_beside_a_lean = 1;
constexpr double least_told = 0.34;    // of a piece's loud windows must agree
constexpr double unheard_beside = 10;  // seconds by which a hole may be longer than what was lost in it
/// Of the windows that agree with a line, the share that must not agree with one another bar away. Own simulation, the
/// largest share where two days had but a song in common: 0.33. Where one day had the same song twice it was about 0.4,
/// else nearly all.
constexpr double least_unrepeated = 0.35;
constexpr double as_good = 0.6;  // of the coarse score: 0.52 and less where clips belong together and much is in doubt
constexpr double same_coarsely = 0.12;  // seconds between lags that the coarse search does not tell apart
/// Of the best coarse score. Bars that were taken for a loss, one in each of two simulations: 0.37 and 0.59.
constexpr double not_far_worse = 0.3;
constexpr double shop_wide = 0.02;  // seconds around a line: sounds from all over
constexpr int fewest_votes = 3;     // luck does not meet so few seconds out of hundreds thrice
constexpr double as_loud = 0.9;     // of what the share of windows is, the share of what happens in them
constexpr double proof_in_noise = 10;
constexpr int agreed_in_noise = 5;
constexpr double warming_slope = 20e-6;
constexpr int nearest_blow = 20, farthest_blow = 75;  // cells of the map: 13 to 50 blows a second
constexpr double scattered_lags = 0.004;              // seconds: more than one way of the sound has
constexpr int one_shop_cells = 6;                     // to either side, beyond the blur
/// Evidence in all windows by which a line must lead those a blow beside it. Own simulation: of the lines that lead by
/// less one in five is wrong.
constexpr double clear_lead = 12;

/// Of a's seconds those of which the segments tell: their own, and between two of them what b lost. Where a lost time
/// one goes on where the other ends; a hole there must be a silence. A few windows of many that are `loud` tell of
/// nothing but themselves.
template <class Loud>
std::vector<Extent> told_for(const std::vector<Segment>& segments, const Loud& loud) {
  std::vector<Extent> told;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    const auto in = [&](const Glimpse& one) { return segments[i].covers(one.at); };
    const auto& all = segments[i].glimpses;
    const auto agree = std::ranges::count_if(all, [&](const Glimpse& one) { return in(one) && one.agrees; });
    const auto loudly = std::ranges::count_if(all, [&](const Glimpse& one) { return in(one) && loud(one); });
    if (static_cast<double>(agree) >= least_told * static_cast<double>(loudly)) {
      told.push_back({segments[i].from, segments[i].to});
    }
    if (i == 0) continue;
    const Segment& before = segments[i - 1];
    const Segment& after = segments[i];
    const double lost_by_b = std::max(0.0, -step_between(before, after));
    const double hole = after.from - before.to;
    if (hole <= lost_by_b + unheard_beside) told.push_back({before.to, after.from});
  }
  return told;
}

}  // namespace

const Segment& strongest(const std::vector<Segment>& segments) {
  const auto weaker = [](const Segment& s, const Segment& t) { return s.proof < t.proof; };
  return *std::max_element(segments.begin(), segments.end(), weaker);
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

Shares shares_of(const Segment& segment) {
  double all = 0;
  Shares shares;
  for (const Glimpse& one : segment.glimpses) {
    const bool in = segment.covers(one.at);
    all += one.happens;
    shares.within += in ? one.happens : 0;
    shares.explained += in && one.agrees ? one.happens : 0;
  }
  return all > 0 ? Shares{shares.within / all, shares.explained / all} : Shares{};
}

void count_fringe(Segment& segment) {
  const auto& all = segment.glimpses;
  const auto inside = [&](const Glimpse& one) { return segment.covers(one.at); };
  const auto first = std::find_if(all.begin(), all.end(), inside);
  if (first == all.end()) return;
  Segment wider = segment;
  for (auto one = first; one->agrees && one != all.begin() && std::prev(one)->agrees; --one) {
    wider.from = std::prev(one)->at;
  }
  const auto last = std::find_if(all.rbegin(), all.rend(), inside);
  for (auto one = last; one->agrees && one != all.rbegin() && std::prev(one)->agrees; --one) {
    wider.to = std::prev(one)->at;
  }
  const Shares shares = shares_of(wider);
  segment.within = shares.within;
  segment.explained = shares.explained;
}

bool on_one_line(const Segment& segment) {
  const auto& all = segment.observations;
  // Log10 of the chance that as many lie so near the line by luck.
  const auto chance_within = [&](double reach, double chance) {
    const auto near = [&](const Observation& one) { return std::abs(one.lag - segment.fit.line(one.at)) < reach; };
    const int together = static_cast<int>(std::count_if(all.begin(), all.end(), near));
    return signal::log10_binomial_tail(together - 1, static_cast<int>(all.size()) - 1, chance);
  };
  return chance_within(one_shop, one_shop_chance) < surely_together ||
         chance_within(one_place, one_place_chance) < surely_one_place;
}

double doubt_beside(const LagMap& map, const Segment& segment, const std::vector<Segment>& others) {
  constexpr int reach = farthest_blow + one_shop_cells;
  const auto own = [&](double t) {
    return segment.covers(t) ||
           std::none_of(others.begin(), others.end(), [t](const Segment& other) { return other.covers(t); });
  };
  // By cells beside the line: the best within the shop, summed over the windows.
  std::vector<double> sums(2 * farthest_blow + 1, 0.0);
  for (int w = 0; w < map.windows(); ++w) {
    if (!own(map.time(w))) continue;
    const auto cells = map.cells(w);
    const double off = segment.fit.line(map.time(w)) - map.base()(map.time(w));
    const int middle = static_cast<int>(cells.size()) / 2 + static_cast<int>(std::lround(off / LagMap::cell_seconds));
    if (middle < reach || middle + reach >= static_cast<int>(cells.size())) continue;
    for (int k = -farthest_blow; k <= farthest_blow; ++k) {
      const auto first = cells.begin() + middle + k - one_shop_cells;
      sums[static_cast<std::size_t>(farthest_blow + k)] += *std::max_element(first, first + 2 * one_shop_cells + 1);
    }
  }
  const auto beside = [&](int k) {
    return std::max(sums[static_cast<std::size_t>(farthest_blow - k)],
                    sums[static_cast<std::size_t>(farthest_blow + k)]);
  };
  const double here = sums[farthest_blow];
  // The farthest line that rivals this one: any blow between may be the true one.
  for (int k = farthest_blow; k >= nearest_blow; --k) {
    const bool highest = (k == farthest_blow || beside(k) >= beside(k + 1)) && beside(k) > beside(k - 1);
    if (highest && here - beside(k) < clear_lead) return k * LagMap::cell_seconds / 2;
  }
  return 0;
}

double jump_between(const Segment& segment, const Segment& main) {
  const double middle = (segment.from + segment.to) / 2;
  return std::abs(segment.fit.line(middle) - main.fit.line(middle));
}

double doubtful_jump(const Segment& segment, const Segment& main) {
  const double jump = jump_between(segment, main);
  return jump < longest_blow && segment.doubt + main.doubt > 0 ? jump : 0;
}

void doubt_blows(const LagMap& map, std::vector<Segment>& segments) {
  for (Segment& segment : segments) segment.doubt = doubt_beside(map, segment, segments);
  for (std::size_t i = 1; i < segments.size();) {
    const double jump = doubtful_jump(segments[i], segments.front());
    if (jump > 0) {
      segments.front().doubt = std::max(segments.front().doubt, jump / 2);
      segments.erase(segments.begin() + static_cast<std::ptrdiff_t>(i));
    } else {
      ++i;
    }
  }
  // Only now: what was proven to jump here stays. Where the sound came one way it has echoes that stand out.
  for (Segment& segment : segments) {
    if (segment.fit.spread < scattered_lags) continue;
    const double rival = rival_beside(map, {segment.from, segment.to}, segment.fit.line);
    segment.doubt = std::max(segment.doubt, rival / 2);
  }
}

void set_shares(const Frames& a, const Frames& b, const LagMap& map, double seconds, Segment& segment) {
  const Line& line = segment.fit.line;
  const auto heard_in = [seconds](const Frames& frames, double t) {
    return frames.activity(t - seconds / 2, t + seconds / 2);
  };
  const double noise = noise_activity * seconds;
  const double closely = std::clamp(3 * segment.fit.spread, least_closely, clear_reach);
  segment.audible = 0;
  segment.glimpses.clear();
  for (int w = 0; w < map.windows(); ++w) {
    const double t = map.time(w);
    const double in_a = heard_in(a, t), in_b = heard_in(b, t + line(t));
    const double happens = std::sqrt(std::max(0.0, in_a - noise) * std::max(0.0, in_b - noise));
    segment.audible += happens;
    const auto heard_within = [&](double reach) { return map.highest(w, line(t), reach).z >= clear_peak; };
    segment.glimpses.push_back(
        {t, happens, heard_within(clear_reach), heard_within(closely), in_a, in_b, rank_of(map, w, line)});
  }
  if (!(segment.audible > 0)) return;
  const Shares shares = shares_of(segment);
  segment.within = shares.within;
  segment.explained = shares.explained;
}

std::optional<Heard> usual_of(const Segment& segment) {
  std::vector<double> in_a, in_b;
  for (const Glimpse& one : segment.glimpses) {
    if (!one.agrees || !segment.covers(one.at)) continue;
    in_a.push_back(one.in_a);
    in_b.push_back(one.in_b);
  }
  if (in_a.empty()) return std::nullopt;
  return Heard{signal::median(std::move(in_a)), signal::median(std::move(in_b))};
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
    if (one.agrees && main.covers(one.at)) heard.push_back(one.happens);
  }
  if (heard.empty()) return false;
  const double loud = std::max(least_loud, signal::median(std::move(heard)) / 2);
  int all = 0, inside = 0, agreed = 0;
  for (const Segment& segment : segments) {
    for (const Glimpse& one : segment.glimpses) {
      if (one.happens < loud || !segment.covers(one.at)) continue;
      ++inside;
      ++all;
      agreed += one.agrees ? 1 : 0;
    }
  }
  for (const Glimpse& one : main.glimpses) {
    all += one.happens >= loud && !one.agrees && (one.at < first || one.at > last) ? 1 : 0;
  }
  return agreed < (inside < few_windows ? least_agreed_of_few : least_agreed) * all;
}

double share_alone(const std::vector<Segment>& segments) {
  const Segment& main = strongest(segments);
  int agreed = 0;
  for (const Segment& segment : segments) {
    for (const Glimpse& one : segment.glimpses) {
      agreed += one.agrees && segment.covers(one.at) ? 1 : 0;
    }
  }
  const auto usual = usual_of(main);
  if (!usual || std::min(usual->in_a, usual->in_b) < least_usual) return 0;
  const auto loud = [&](const Glimpse& one) { return usual->reached_by(one, as_loud_as_usual); };
  const std::vector<Extent> told = told_for(segments, loud);
  const auto alone = [&](const Glimpse& one) {
    return loud(one) && !one.agrees && std::none_of(told.begin(), told.end(), [&](const Extent& stretch) {
             return one.at >= stretch.from && one.at <= stretch.to;
           });
  };
  return static_cast<double>(std::count_if(main.glimpses.begin(), main.glimpses.end(), alone)) / agreed;
}

bool leans(const std::vector<Segment>& segments) {
  return strongest(segments).leans && share_alone(segments) < most_beside_a_lean;
}

bool goes_on_alone(const std::vector<Segment>& segments) { return share_alone(segments) >= most_alone; }

bool only_repeats(const std::vector<Segment>& proven, double least) {
  const Segment& main = strongest(proven);
  const auto elsewhere = [&](const Segment& other) {
    return jump_between(other, main) > another_bar && other.proof >= least * main.proof;
  };
  int agreed = 0, unrepeated = 0;
  for (const Glimpse& one : main.glimpses) {
    if (!one.agrees || !main.covers(one.at)) continue;
    ++agreed;
    const auto repeats = [&](const Segment& other) {
      return elsewhere(other) && one.at >= other.from - half_window && one.at <= other.to + half_window;
    };
    unrepeated += std::none_of(proven.begin(), proven.end(), repeats) ? 1 : 0;
  }
  return unrepeated < least_unrepeated * agreed;
}

bool likely_elsewhere(std::span<const Candidate> candidates, const std::vector<Segment>& pieces) {
  const Segment& main = strongest(pieces);
  const double middle = (main.from + main.to) / 2;
  double here = 0, elsewhere = 0;
  for (const Candidate& candidate : candidates) {
    const bool at_main = std::abs(candidate.line(middle) - main.fit.line(middle)) < another_bar;
    const auto beyond_a_loss = [&](const Segment& piece) {
      return piece.covers(candidate.from) && piece.covers(candidate.to) && lies_at(piece, candidate);
    };
    if (!at_main && std::ranges::any_of(pieces, beyond_a_loss)) continue;
    double& best = at_main ? here : elsewhere;
    best = std::max(best, candidate.score);
  }
  return here > 0 && elsewhere >= more_than_luck && elsewhere >= as_good * here;
}

bool lies_at(const Segment& segment, const Candidate& candidate) {
  const double middle = (segment.from + segment.to) / 2;
  return std::abs(candidate.line(middle) - segment.fit.line(middle)) < same_coarsely;
}

bool vote_for_another(const std::vector<std::vector<Vote>>& by_window, const Line& own, const Line& another) {
  const auto windows_on = [&](const Line& line) {
    return std::ranges::count_if(by_window, [&](const std::vector<Vote>& votes) {
      return std::ranges::any_of(votes, [&](const Vote& one) { return std::abs(one.lag - line(one.at)) < shop_wide; });
    });
  };
  const auto there = windows_on(another);
  return there >= fewest_votes && 2 * there >= std::ssize(by_window) && there > 2 * windows_on(own);
}

bool a_bar_apart(const std::vector<Segment>& pieces) {
  return std::ranges::adjacent_find(pieces, [](const Segment& before, const Segment& after) {
           return std::abs(step_between(before, after)) >= another_bar;
         }) != pieces.end();
}

bool alike_elsewhere(std::span<const Candidate> candidates, const std::vector<Segment>& pieces) {
  double least = more_than_luck;
  for (const Candidate& candidate : candidates) least = std::max(least, not_far_worse * candidate.score);
  return std::ranges::any_of(candidates, [&](const Candidate& candidate) {
    const auto there = [&](const Segment& piece) { return lies_at(piece, candidate); };
    return candidate.score >= least && std::ranges::none_of(pieces, there);
  });
}

bool heard_along(const Candidate& candidate, const std::vector<Segment>& proven) {
  const double t = (candidate.from + candidate.to) / 2;
  return std::ranges::any_of(proven, [&](const Segment& segment) {
    return segment.covers(t) && std::abs(candidate.line(t) - segment.fit.line(t)) < same_coarsely;
  });
}

bool heard_better(const Candidate& candidate, std::span<const Candidate> all, const std::vector<Segment>& proven) {
  if (candidate.score < more_than_luck) return false;
  const double t = (candidate.from + candidate.to) / 2;
  const auto at = [t](const Candidate& other, double lag) { return std::abs(other.line(t) - lag) < same_coarsely; };
  return std::ranges::any_of(proven, [&](const Segment& segment) {
    const double lag = segment.fit.line(t);
    if (!segment.covers(t) || at(candidate, lag)) return false;
    return std::ranges::none_of(all, [&](const Candidate& other) {
      return at(other, lag) && other.score >= candidate.score && other.from <= t && other.to >= t;
    });
  });
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
  // Where noise hides all that happens, nothing can be left unexplained. But a loss in what cannot be heard is none: a
  // machine fits itself at many turns.
  if (audible < hardly_audible) return proof >= proof_in_noise && agreed >= agreed_in_noise && segments.size() == 1;
  return explained >= least_explained || (within >= least_within && explained >= least_explained_within);
}

bool explains_gap(const Segment& piece) {
  if (piece.explained >= least_of_gap) return true;
  // Sounds that one of the two was much nearer to are loud, and weigh more than they say.
  const bool most_agree = piece.within >= least_of_gap && piece.agreed >= least_agreed_of_gap * piece.windows;
  if (most_agree && stands_out(standing_of({piece}))) return true;
  return piece.within >= least_part_of_gap && piece.explained >= least_of_part * piece.within;
}

bool louder_agrees(const std::vector<Segment>& segments, double agreeing) {
  double explained = 0, audible = 0;
  for (const Segment& segment : segments) {
    explained += segment.explained;
    audible = std::max(audible, segment.audible);
  }
  return audible < hardly_audible || explained >= as_loud * agreeing;
}

}  // namespace jigtime::sync
