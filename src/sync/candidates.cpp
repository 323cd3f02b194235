#include "sync/candidates.h"

#include <algorithm>
#include <cmath>

namespace jigtime::sync {

namespace {

constexpr double least_z = 3.8;
constexpr double block_error = 0.03;  // seconds that a block's lag may be off: a frame and a half
constexpr double same_place = 0.12;

struct Choice {
  std::size_t block = 0;
  const Vote* vote = nullptr;
};

/// Each block's best vote near the line, and the sum of z squared over them.
double supporters(const std::vector<std::vector<Vote>>& votes, const Line& line, std::vector<Choice>& found) {
  double power = 0;
  found.clear();
  for (std::size_t i = 0; i < votes.size(); ++i) {
    const Vote* best = nullptr;
    for (const Vote& vote : votes[i]) {
      if (vote.z < least_z || std::abs(vote.lag - line(vote.at)) > block_error) continue;
      if (best == nullptr || vote.z > best->z) best = &vote;
    }
    if (best == nullptr) continue;
    power += best->z * best->z;
    found.push_back({i, best});
  }
  return power;
}

/// The line through one vote, or through it and another, that most votes support.
std::vector<Choice> best_through(const std::vector<std::vector<Vote>>& votes, const Vote& seed) {
  std::vector<Choice> best, found;
  double most = supporters(votes, {seed.at, seed.lag, 0}, best);
  for (const auto& block : votes) {
    for (const Vote& other : block) {
      if (other.z < least_z || std::abs(other.at - seed.at) < 60) continue;
      const double slope = (other.lag - seed.lag) / (other.at - seed.at);
      if (std::abs(slope) > most_slope) continue;
      const double power = supporters(votes, {seed.at, seed.lag, slope}, found);
      if (power > most) {
        most = power;
        best.swap(found);
      }
    }
  }
  return best;
}

/// What could lie on one line with a vote, at any slope two cameras can have: the best vote of each block.
double promise_of(const std::vector<std::vector<Vote>>& votes, const Vote& seed) {
  double power = 0;
  for (const auto& block : votes) {
    double best = 0;
    for (const Vote& vote : block) {
      const double reach = block_error + most_slope * std::abs(vote.at - seed.at);
      if (vote.z >= least_z && std::abs(vote.lag - seed.lag) <= reach) best = std::max(best, vote.z);
    }
    power += best * best;
  }
  return power;
}

Candidate from_votes(const std::vector<Choice>& votes) {
  Candidate candidate;
  std::vector<Observation> observations;
  double power = 0;
  for (const Choice& choice : votes) {
    observations.push_back({choice.vote->at, choice.vote->lag, choice.vote->z * choice.vote->z});
    power += choice.vote->z * choice.vote->z;
  }
  candidate.from = votes.front().vote->at;
  candidate.to = votes.back().vote->at;
  candidate.score = std::sqrt(power);
  candidate.blocks = static_cast<int>(votes.size());
  candidate.line = fit_line(observations, 0, 80e-6).line;
  const double length = candidate.to - candidate.from;
  candidate.slope_reach = length > 0 ? std::min(most_slope, block_error / length) : most_slope;
  return candidate;
}

bool same(const Candidate& a, const Candidate& b) {
  const double middle = (std::max(a.from, b.from) + std::min(a.to, b.to)) / 2;
  return std::abs(a.line(middle) - b.line(middle)) < same_place;
}

}  // namespace

std::vector<Candidate> gather(std::vector<std::vector<Vote>> votes, int count) {
  std::vector<Candidate> found;
  while (static_cast<int>(found.size()) < count) {
    // Not the highest vote: many that agree tell more than one that stands out.
    const Vote* seed = nullptr;
    double most = 0;
    for (const auto& block : votes) {
      for (const Vote& vote : block) {
        if (vote.z < least_z) continue;
        const double promise = promise_of(votes, vote);
        if (promise <= most) continue;
        most = promise;
        seed = &vote;
      }
    }
    if (seed == nullptr) break;
    const std::vector<Choice> choices = best_through(votes, *seed);
    const Candidate candidate = from_votes(choices);
    if (std::none_of(found.begin(), found.end(), [&](const Candidate& other) { return same(candidate, other); })) {
      found.push_back(candidate);
    }
    // What one line explains does not start another.
    for (const Choice& choice : choices) {
      votes[choice.block].erase(votes[choice.block].begin() + (choice.vote - votes[choice.block].data()));
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
  return found;
}

}  // namespace jigtime::sync
