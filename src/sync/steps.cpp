#include "sync/steps.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

constexpr double same_time = 3;  // seconds: two pairs place one loss that far apart where both hear much
constexpr double same_length = 0.05;

void add_jumps(const PairMatch& match, std::vector<std::vector<Split>>& splits) {
  for (std::size_t i = 0; i + 1 < match.segments.size(); ++i) {
    const Segment& before = match.segments[i];
    const Segment& after = match.segments[i + 1];
    const double at = (before.to + after.from) / 2;
    const double jump = after.fit.line(at) - before.fit.line(at);
    const double earliest = before.observations.back().at, latest = after.observations.front().at;
    if (jump > 0) {
      splits[static_cast<std::size_t>(match.a)].push_back({at, jump, 1, earliest, latest});
    } else {
      // b lost time: in b's clip time the jump lies where the first line ends and the second begins.
      const auto on_b = [](const Segment& segment, double t) { return t + segment.fit.line(t); };
      const double at_b = (on_b(before, before.to) + on_b(after, after.from)) / 2;
      splits[static_cast<std::size_t>(match.b)].push_back(
          {at_b, -jump, 1, on_b(before, earliest), on_b(after, latest)});
    }
  }
}

/// Two pairs that tell of one loss: of the same length, and near each other or each where the other heard nothing.
bool same_loss(const Split& a, const Split& b) {
  if (std::abs(a.seconds - b.seconds) >= same_length) return false;
  return std::abs(a.at - b.at) < same_time || std::max(a.earliest, b.earliest) < std::min(a.latest, b.latest);
}

std::vector<Split> merged(std::vector<Split> splits) {
  std::sort(splits.begin(), splits.end(), [](const Split& a, const Split& b) { return a.at < b.at; });
  std::vector<Split> kept;
  for (const Split& split : splits) {
    Split* const last = kept.empty() ? nullptr : &kept.back();
    if (last != nullptr && same_loss(*last, split)) {
      const int pairs = last->pairs + 1;
      last->at += (split.at - last->at) / pairs;
      last->seconds += (split.seconds - last->seconds) / pairs;
      last->pairs = pairs;
      last->earliest = std::max(last->earliest, split.earliest);
      last->latest = std::min(last->latest, split.latest);
      if (last->earliest < last->latest) last->at = std::clamp(last->at, last->earliest, last->latest);
    } else {
      kept.push_back(split);
    }
  }
  return kept;
}

}  // namespace

std::vector<std::vector<Split>> find_splits(const std::vector<PairMatch>& matches, int clips) {
  std::vector<std::vector<Split>> splits(static_cast<std::size_t>(clips));
  for (const PairMatch& match : matches) add_jumps(match, splits);
  for (auto& one : splits) one = merged(std::move(one));
  return splits;
}

}  // namespace jigtime::sync
