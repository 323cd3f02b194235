#include "sync/schedule.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "sync/at.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double surprising = 9;  // more than clips reach that have nothing in common, mostly
constexpr double far_out = 15;    // more than they reach, as far as was seen
constexpr double trusted_proof = 10;
constexpr double usual_slack = 1;     // seconds
constexpr double surely_shared = 10;  // seconds of overlap beyond doubt
constexpr int pairs_a_round = 2;      // of a clip

double best_score(const Prospect& prospect) {
  return prospect.candidates.empty() ? 0 : prospect.candidates.front().score;
}

}  // namespace

Schedule::Schedule(std::vector<Clip> clips, const std::vector<Prospect>& prospects)
    : clips_{std::move(clips)}, prospects_{prospects}, places_(clips_.size()), links_(clips_.size()) {
  for (std::size_t i = 0; i < places_.size(); ++i) places_[i].root = static_cast<int>(i);
  for (int i = 0; i < static_cast<int>(prospects.size()); ++i) {
    if (best_score(prospects[at(i)]) >= least_score) {
      waiting_.push_back(i);
    } else {
      ++passed_over_;
    }
  }
  std::stable_sort(waiting_.begin(), waiting_.end(),
                   [&](int i, int j) { return best_score(prospects[at(i)]) > best_score(prospects[at(j)]); });
}

void Schedule::place_group(int root) {
  places_[at(root)] = {root, 0, 0};
  std::vector<int> way{root};
  std::vector<bool> told(places_.size(), false);
  told[at(root)] = true;
  while (!way.empty()) {
    const int clip = way.back();
    way.pop_back();
    for (const Link& link : links_[at(clip)]) {
      if (told[at(link.to)]) continue;
      told[at(link.to)] = true;
      const Place& here = places_[at(clip)];
      places_[at(link.to)] = {root, here.zero + link.zero, here.slack + link.slack};
      way.push_back(link.to);
    }
  }
}

std::optional<Schedule::Relation> Schedule::relation(int a, int b) const {
  const Place& place_a = places_[at(a)];
  const Place& place_b = places_[at(b)];
  if (place_a.root != place_b.root) return std::nullopt;
  Relation relation;
  relation.lag = place_a.zero - place_b.zero;
  relation.slack = place_a.slack + place_b.slack + most_slope * (seconds(a) + seconds(b));
  relation.overlap =
      std::min(place_a.zero + seconds(a), place_b.zero + seconds(b)) - std::max(place_a.zero, place_b.zero);
  return relation;
}

std::optional<double> Schedule::expected_lag(int a, int b) const {
  const auto known = relation(a, b);
  if (!known || known->overlap <= known->slack + surely_shared) return std::nullopt;
  return known->lag;
}

std::vector<int> Schedule::worth_comparing(const Prospect& prospect, const Relation& relation) const {
  const bool apart = relation.overlap < -relation.slack;
  const bool together = relation.overlap > relation.slack + surely_shared;
  std::vector<int> all, some;
  bool any_there = false;
  for (int i = 0; i < static_cast<int>(prospect.candidates.size()); ++i) {
    const Candidate& candidate = prospect.candidates[at(i)];
    const bool there = together && std::abs(candidate.line(seconds(prospect.a) / 2) - relation.lag) <= relation.slack;
    all.push_back(i);
    any_there |= there;
    if (there || candidate.score >= surprising) some.push_back(i);
  }
  if (apart || any_there) return some;
  return all;
}

bool Schedule::taken(int clip, int group, double zero, double slack) const {
  const double end = zero + seconds(clip);
  for (int other = 0; other < static_cast<int>(clips_.size()); ++other) {
    const Place& place = places_[at(other)];
    if (place.root != group || clips_[at(other)].camera != clips_[at(clip)].camera || other == clip) continue;
    const double shared = std::min(end, place.zero + seconds(other)) - std::max(zero, place.zero);
    if (shared > slack + place.slack + most_slope * (seconds(clip) + seconds(other)) + surely_shared) return true;
  }
  return false;
}

std::vector<int> Schedule::with_room(const Prospect& prospect) const {
  const Place& of_a = places_[at(prospect.a)];
  const Place& of_b = places_[at(prospect.b)];
  std::vector<int> some;
  for (int i = 0; i < static_cast<int>(prospect.candidates.size()); ++i) {
    const Candidate& candidate = prospect.candidates[at(i)];
    const double lag = candidate.line(seconds(prospect.a) / 2);
    const double slack = of_a.slack + of_b.slack;
    const bool room =
        !taken(prospect.b, of_a.root, of_a.zero - lag, slack) && !taken(prospect.a, of_b.root, of_b.zero + lag, slack);
    if (room || candidate.score >= far_out) some.push_back(i);
  }
  return some;
}

std::vector<Job> Schedule::next() {
  std::vector<Job> jobs;
  std::vector<int> pairs(clips_.size(), 0), left;
  for (const int i : waiting_) {
    const Prospect& prospect = prospects_[at(i)];
    if (const auto known = relation(prospect.a, prospect.b)) {
      Job job{i, worth_comparing(prospect, *known)};
      if (job.candidates.empty()) {
        ++passed_over_;
      } else {
        jobs.push_back(std::move(job));
      }
    } else if (std::min(pairs[at(prospect.a)], pairs[at(prospect.b)]) < pairs_a_round) {
      Job job{i, with_room(prospect)};
      if (job.candidates.empty()) {
        ++passed_over_;
        without_room_.push_back(i);
        continue;
      }
      ++pairs[at(prospect.a)];
      ++pairs[at(prospect.b)];
      jobs.push_back(std::move(job));
    } else {
      left.push_back(i);
    }
  }
  waiting_ = std::move(left);
  return jobs;
}

std::vector<Job> Schedule::left_out(const std::vector<bool>& known) const {
  std::vector<Job> jobs;
  for (const int i : without_room_) {
    const Prospect& prospect = prospects_[at(i)];
    if (known[at(prospect.a)] && known[at(prospect.b)]) continue;
    jobs.push_back({i, std::vector<int>(prospect.candidates.size())});
    std::iota(jobs.back().candidates.begin(), jobs.back().candidates.end(), 0);
  }
  return jobs;
}

void Schedule::learn(const PairMatch& match) {
  if (match.segments.empty() || !match.rivals.empty()) return;
  const Segment& best = strongest(match.segments);
  if (best.proof < trusted_proof) return;
  const int root = places_[at(match.a)].root;
  if (root == places_[at(match.b)].root) return;
  double jumps = 0;
  for (const Segment& segment : match.segments) {
    jumps = std::max(jumps, std::abs(segment.fit.line.lag - best.fit.line(segment.fit.line.at)));
  }
  // What a hears at t, b hears at t + lag: b's zero lies at a's zero less the lag.
  const double zero = -best.fit.line(best.fit.line.at);
  links_[at(match.a)].push_back({match.b, zero, jumps + usual_slack});
  links_[at(match.b)].push_back({match.a, -zero, jumps + usual_slack});
  place_group(root);
}

}  // namespace jigtime::sync
