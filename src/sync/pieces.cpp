#include "sync/pieces.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sync/hearable.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

// Two segments may share that much: where a jump lies is known no better.
constexpr double shared_seconds = 6;
constexpr double most_shared_seconds = 15;
constexpr double shared_of_shorter = 0.2;
constexpr std::size_t least_parted = 4;  // observations
constexpr double least_parted_seconds = 5;
constexpr int least_parted_windows = 3;  // that agree: a bar of music gives two
constexpr double lives_on = 0.5;         // of a piece's length, what it takes from another
constexpr double clearly_better = 0.25;  // share of windows
constexpr double sharp_spread = 0.004;   // seconds
constexpr double sharp_proof = 12;
constexpr double nearly_back = 0.1;   // of what a first loss would be, by how much less or more a second one is
constexpr double half_as_well = 0.5;  // proven

double shared(double from_a, double to_a, double from_b, double to_b) {
  return std::min(to_a, to_b) - std::max(from_a, from_b);
}

/// The segment between two clip seconds of a alone.
Segment part_of(const Segment& whole, double from, double to) {
  Segment part = whole;
  std::erase_if(part.observations, [&](const Observation& one) { return one.at < from || one.at > to; });
  if (part.observations.empty()) return part;
  double first = part.observations.front().at, last = part.observations.back().at;
  for (const Glimpse& one : whole.glimpses) {
    // Sounds from elsewhere in the shop bear the line out, but are no observations of it.
    if (!one.agrees || one.at < from || one.at > to) continue;
    first = std::min(first, one.at);
    last = std::max(last, one.at);
  }
  part.from = std::max(whole.from, first);
  part.to = std::min(whole.to, last);
  part.windows = part.agreed = 0;
  for (const Glimpse& one : whole.glimpses) {
    const bool in = one.at >= part.from && one.at <= part.to;
    part.windows += in ? 1 : 0;
    part.agreed += in && one.agrees ? 1 : 0;
  }
  const Shares before = shares_of(whole), after = shares_of(part);
  part.within *= before.within > 0 ? after.within / before.within : 1;
  part.explained *= before.explained > 0 ? after.explained / before.explained : 1;
  part.fit = fit_line(part.observations, 0, most_slope);
  part.fit.spread = std::max(part.fit.spread, whole.fit.spread);
  return part;
}

/// What a window says for its line: nothing where nothing happens.
double word_of(const Glimpse& one) { return one.closely ? 1 : one.happens >= least_loud ? -1 : 0; }

/// Between which times the windows bear the line out as densely as anywhere in the segment: a lucky one far beyond the
/// others does not stretch it. Closely or not: what is close to a sharp line leaves out whole stretches in which sounds
/// came from elsewhere in the shop.
Extent borne_out(const Segment& segment) {
  double loud = 0, agree = 0;
  const auto in = [&](const Glimpse& one) { return one.at >= segment.from && one.at <= segment.to; };
  for (const Glimpse& one : segment.glimpses) {
    loud += in(one) && word_of(one) != 0 ? 1 : 0;
    agree += in(one) && one.agrees && word_of(one) != 0 ? 1 : 0;
  }
  Extent best{segment.from, segment.to};
  double most = 0, sum = 0, from = segment.from;
  for (const Glimpse& one : segment.glimpses) {
    if (!in(one) || word_of(one) == 0) continue;
    if (sum <= 0) {
      sum = 0;
      from = one.at;
    }
    sum += (one.agrees ? 1 : 0) - agree / loud / 2;
    if (sum <= most) continue;
    most = sum;
    best = {from, one.at};
  }
  return best;
}

/// The segment without such lucky ends.
Segment without_ends(const Segment& segment) {
  const Extent kept = borne_out(segment);
  const auto agrees_in = [&](const auto& stretch) {
    return std::any_of(segment.glimpses.begin(), segment.glimpses.end(),
                       [&](const Glimpse& one) { return one.closely && stretch(one.at); });
  };
  const bool before = agrees_in([&](double t) { return t >= segment.from && t < kept.from; });
  const bool after = agrees_in([&](double t) { return t > kept.to && t <= segment.to; });
  return before || after ? part_of(segment, before ? kept.from : segment.from, after ? kept.to : segment.to) : segment;
}

/// Both pieces on the time of the clip that lost, on which one ends where the other begins.
class LoserTime {
 public:
  LoserTime(const Segment& before, const Segment& after) : a_lost_{step_between(before, after) > 0} {}
  double of(const Segment& segment, double at) const { return a_lost_ ? at : at + segment.fit.line(at); }
  double back(const Segment& segment, double time) const {
    return a_lost_ ? time : time + reversed(segment.fit.line)(time);
  }

 private:
  bool a_lost_;
};

/// Share of the windows between two times that bear the line out, `closely` or at all; 1 where nothing happens.
double share_that_agrees(const Segment& segment, bool Glimpse::*bears_out, const LoserTime& time, double from,
                         double to) {
  int loud = 0, agree = 0;
  for (const Glimpse& one : segment.glimpses) {
    const double t = time.of(segment, one.at);
    if (t < from || t > to || word_of(one) == 0) continue;
    ++loud;
    agree += one.*bears_out ? 1 : 0;
  }
  return loud > 0 ? static_cast<double>(agree) / loud : 1;
}

/// Whether what one piece gives up, between two times, fits the other clearly better: else both places are as good.
/// A little of it says nothing: windows that heard both sides. But a short taker that lives on it may be a bar of music
/// that the giver heard as well. What is close differs from line to line: of a giver that is sharp elsewhere, sounds
/// from other places in the shop count all the same.
bool fits_better(const Segment& taker, const Segment& giver, const LoserTime& time, double from, double to) {
  if (to - from < std::min(most_shared_seconds, lives_on * (taker.to - taker.from))) return true;
  const double given = share_that_agrees(giver, &Glimpse::agrees, time, from, to);
  return share_that_agrees(taker, &Glimpse::closely, time, from, to) >= given + clearly_better;
}

}  // namespace

bool contradict(const Segment& s, const Segment& t) {
  const double shorter = std::min(s.to - s.from, t.to - t.from);
  const double allowed = std::clamp(shared_of_shorter * shorter, shared_seconds, most_shared_seconds);
  if (shared(s.from, s.to, t.from, t.to) > allowed) return true;
  const auto heard_from = [](const Segment& x) { return x.from + x.fit.line(x.from); };
  const auto heard_to = [](const Segment& x) { return x.to + x.fit.line(x.to); };
  if (shared(heard_from(s), heard_to(s), heard_from(t), heard_to(t)) > allowed) return true;
  return (s.from < t.from) != (heard_from(s) < heard_from(t));
}

bool same_place(const Segment& s, const Segment& t) {
  const double middle = (std::max(s.from, t.from) + std::min(s.to, t.to)) / 2;
  return shared(s.from, s.to, t.from, t.to) > 0 && std::abs(s.fit.line(middle) - t.fit.line(middle)) < 0.02;
}

bool part(Segment& s, Segment& t) {
  if (s.from > t.from) return part(t, s);
  const LoserTime time{s, t};
  std::vector<std::pair<double, double>> words;  // time, and what is gained if the border lies after it
  for (const Glimpse& one : s.glimpses) words.push_back({time.of(s, one.at), word_of(one)});
  for (const Glimpse& one : t.glimpses) words.push_back({time.of(t, one.at), -word_of(one)});
  std::sort(words.begin(), words.end());
  double score = 0, most = 0, border = -1e18;
  for (const auto& [when, word] : words) {
    score += word;
    if (score <= most) continue;
    most = score;
    border = when;
  }
  constexpr double just = 1e-3;  // seconds, less than from window to window
  const Segment before = without_ends(part_of(s, s.from, time.back(s, border) + just)),
                after = without_ends(part_of(t, time.back(t, border) + just, t.to));
  for (const Segment* one : {&before, &after}) {
    if (one->observations.size() < least_parted || one->to - one->from < least_parted_seconds) return false;
    if (!one->glimpses.empty() && one->agreed < least_parted_windows) return false;
  }
  if (contradict(before, after)) return false;
  if (!fits_better(t, s, time, border + just, time.of(s, s.to))) return false;
  if (!fits_better(s, t, time, time.of(t, t.from), border)) return false;
  s = before;
  t = after;
  return true;
}

namespace {

/// What was left out, and for which of the kept.
struct LeftOut {
  Segment segment;
  std::size_t against = 0;
};

/// Of those in order of proof each that does not contradict the better proven ones.
std::vector<Segment> best_proven(const std::vector<Segment>& proven, std::vector<LeftOut>& left_out) {
  std::vector<Segment> kept;
  for (Segment segment : proven) {
    const auto same = [&](const Segment& other) { return same_place(segment, other); };
    if (std::any_of(kept.begin(), kept.end(), same)) continue;
    const auto against = std::find_if(
        kept.begin(), kept.end(), [&](Segment& other) { return contradict(segment, other) && !part(segment, other); });
    if (against == kept.end()) {
      kept.push_back(std::move(segment));
    } else {
      left_out.push_back({std::move(segment), static_cast<std::size_t>(against - kept.begin())});
    }
  }
  return kept;
}

/// Whether a piece needs both clips to have lost about as much, one after the other, and what it stands against, in
/// which more windows agree, lies near the pieces before and after: then it is a bar of music.
bool only_a_bar(const std::vector<Segment>& kept, const LeftOut& left_out) {
  const Segment& piece = kept[left_out.against];
  const Segment *before = nullptr, *after = nullptr;
  for (const Segment& one : kept) {
    if (one.from < piece.from && (before == nullptr || one.from > before->from)) before = &one;
    if (one.from > piece.from && (after == nullptr || one.from < after->from)) after = &one;
  }
  if (left_out.against == 0 || before == nullptr || after == nullptr) return false;
  const double away = std::min(jump_between(piece, *before), jump_between(piece, *after));
  const bool back = jump_between(*before, *after) < std::max(another_bar, nearly_back * away);
  const bool near =
      std::min(jump_between(left_out.segment, *before), jump_between(left_out.segment, *after)) < another_bar;
  return away >= another_bar && back && near && left_out.segment.agreed > piece.agreed &&
         left_out.segment.proof > half_as_well * piece.proof;
}

}  // namespace

Settled settle(std::vector<Segment> proven) {
  std::stable_sort(proven.begin(), proven.end(), [](const Segment& s, const Segment& t) { return s.proof > t.proof; });
  Settled settled;
  std::vector<LeftOut> left_out;
  for (;;) {
    left_out.clear();
    settled.pieces = best_proven(proven, left_out);
    const auto wrong =
        std::ranges::find_if(left_out, [&](const LeftOut& one) { return only_a_bar(settled.pieces, one); });
    if (wrong == left_out.end()) break;
    // By its proof, which parting leaves as it was.
    const double proof = settled.pieces[wrong->against].proof;
    std::erase_if(proven, [proof](const Segment& one) { return one.proof == proof; });
  }
  for (const LeftOut& one : left_out) {
    const Segment& against = settled.pieces[one.against];
    if (one.segment.proof > rival_share * against.proof) settled.rivals = {against, one.segment};
  }
  std::sort(settled.pieces.begin(), settled.pieces.end(),
            [](const Segment& s, const Segment& t) { return s.from < t.from; });
  return settled;
}

void part_all(std::vector<Segment>& proven) {
  for (std::size_t i = 0; i < proven.size(); ++i) {
    for (std::size_t k = i + 1; k < proven.size(); ++k) {
      if (!same_place(proven[i], proven[k]) && contradict(proven[i], proven[k])) part(proven[i], proven[k]);
    }
  }
}

void leave_out_blows(std::vector<Segment>& segments, const BorneOut& borne_out) {
  for (std::size_t i = 0; i + 1 < segments.size();) {
    Segment& first = segments[i];
    Segment& second = segments[i + 1];
    const double jump = std::abs(step_between(first, second));
    const bool second_goes = second.proof < first.proof;
    Segment& kept = second_goes ? first : second;
    const Segment& weaker = second_goes ? second : first;
    const bool sharp = weaker.fit.spread < sharp_spread && weaker.proof > sharp_proof;
    if (jump < least_jump || jump > two_blows || first.doubt + second.doubt == 0 || sharp ||
        (borne_out && borne_out(first, second))) {
      ++i;
      continue;
    }
    kept.doubt = std::max(kept.doubt, jump / 2);
    segments.erase(segments.begin() + static_cast<std::ptrdiff_t>(second_goes ? i + 1 : i));
    if (!second_goes && i > 0) --i;
  }
}

void join_pieces(std::vector<Segment>& segments) {
  for (std::size_t i = 0; i + 1 < segments.size();) {
    Segment& first = segments[i];
    const Segment& second = segments[i + 1];
    if (std::abs(step_between(first, second)) >= least_jump) {
      ++i;
      continue;
    }
    first.to = second.to;
    first.observations.insert(first.observations.end(), second.observations.begin(), second.observations.end());
    const double spread = std::max(first.fit.spread, second.fit.spread);
    first.fit = fit_line(first.observations, 0, most_slope);
    first.fit.spread = std::max(spread, first.fit.spread);
    first.windows += second.windows;
    first.doubt = std::max(first.doubt, second.doubt);
    first.agreed += second.agreed;
    first.proof = std::max(first.proof, second.proof);
    segments.erase(segments.begin() + static_cast<std::ptrdiff_t>(i) + 1);
  }
}

void keep_apart(Segment& before, Segment& after) {
  const auto erase = [](std::vector<Observation>& observations, const auto& beyond) {
    if (!std::all_of(observations.begin(), observations.end(), beyond)) std::erase_if(observations, beyond);
  };
  erase(before.observations, [&](const Observation& one) { return one.at > before.to; });
  erase(after.observations, [&](const Observation& one) { return one.at < after.from; });
}

}  // namespace jigtime::sync
