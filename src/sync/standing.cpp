#include "sync/standing.h"

#include <algorithm>
#include <cmath>

#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double far_out = 6;
constexpr double clearly_more = 1.3;
constexpr double ways = 0.016;   // seconds around a line: 12 ms are four metres, and the line itself is not exact
constexpr double around = 0.24;  // seconds
constexpr int fewest_surely = 3;
constexpr double least_first = 0.5;  // of the clear windows
constexpr double unclear_counts = 0.5;
// Own simulation, outdone windows for each that is first: one line in forty where clips belong together has as many as
// `most_outdone`.
constexpr double most_outdone = 0.6;
constexpr double hardly_outdone = 0.25;
constexpr double fewest_outdone = 3;
constexpr double farthest_rival = 0.075;  // seconds: a few blows
/// Another simulation, 13 sessions: of the scattered lines with as many windows at one place beside them two were 28
/// and 43 ms wrong, both of 13 windows, and three were not known to be.
constexpr int fewest_rivals = 3;
constexpr double least_rivals = 0.15;  // of all windows of the stretch
constexpr int fewest_alone = 4;
constexpr double hardly_beside = 0.34;

/// Of each piece in its own stretch, and of the strongest one where there is no piece.
template <class Tell>
void for_each_glimpse(const std::vector<Segment>& segments, const Tell& tell) {
  for (const Segment& segment : segments) {
    for (const Glimpse& one : segment.glimpses) {
      if (segment.covers(one.at)) tell(one);
    }
  }
  for (const Glimpse& one : strongest(segments).glimpses) {
    const auto there = [&](const Segment& segment) { return segment.covers(one.at); };
    if (std::none_of(segments.begin(), segments.end(), there)) tell(one);
  }
}

void count(Rank rank, Standing& standing) {
  standing.clear += rank != Rank::none ? 1 : 0;
  standing.first += rank == Rank::first || rank == Rank::surely ? 1 : 0;
  standing.surely += rank == Rank::surely ? 1 : 0;
  standing.outdone += rank == Rank::outdone ? 1 : 0;
}

/// Windows that speak against the line.
double against(const Standing& standing) {
  const int unclear = standing.clear - standing.first - standing.outdone;
  return standing.outdone + unclear_counts * unclear;
}

}  // namespace

Rank rank_of(const LagMap& map, int window, const Line& line) {
  const double lag = line(map.time(window));
  if (std::abs(lag - map.base()(map.time(window))) > LagMap::sharp_reach - ways) return Rank::none;
  const LagPeak all = map.highest(window, lag, around);
  if (all.z < clear_peak) return Rank::none;
  if (std::abs(all.lag - lag) <= ways) return all.z >= far_out ? Rank::surely : Rank::first;
  if (all.z < far_out) return Rank::unclear;
  return all.z >= clearly_more * map.highest(window, lag, ways).z ? Rank::outdone : Rank::unclear;
}

Standing standing_of(const LagMap& map, const Line& line) {
  Standing standing;
  for (int w = 0; w < map.windows(); ++w) count(rank_of(map, w, line), standing);
  return standing;
}

double rival_beside(const LagMap& map, const Extent& within, const Line& line) {
  int windows = 0;
  std::vector<double> beside;
  for (int w = 0; w < map.windows(); ++w) {
    const double t = map.time(w);
    if (t < within.from || t > within.to) continue;
    ++windows;
    if (rank_of(map, w, line) != Rank::outdone) continue;
    const double off = map.highest(w, line(t), around).lag - line(t);
    if (std::abs(off) <= farthest_rival) beside.push_back(off);
  }
  std::ranges::sort(beside);
  const auto enough = [&](std::size_t count) {
    return static_cast<int>(count) >= fewest_rivals && static_cast<double>(count) >= least_rivals * windows;
  };
  double farthest = 0;
  for (std::size_t first = 0, end = 0; first < beside.size(); ++first) {
    while (end < beside.size() && beside[end] - beside[first] <= ways) ++end;
    if (enough(end - first)) farthest = std::max(farthest, std::abs(beside[first] + beside[end - 1]) / 2);
  }
  return farthest;
}

Standing standing_of(const std::vector<Segment>& segments) {
  Standing standing;
  for_each_glimpse(segments, [&](const Glimpse& one) { count(one.rank, standing); });
  return standing;
}

Agreement agreement(const std::vector<Segment>& segments) {
  int windows = 0, agreed = 0, undisputed = 0;
  for_each_glimpse(segments, [&](const Glimpse& one) {
    ++windows;
    agreed += one.agrees ? 1 : 0;
    undisputed += one.agrees && one.rank != Rank::outdone ? 1 : 0;
  });
  return {static_cast<double>(agreed) / std::max(1, windows), static_cast<double>(undisputed) / std::max(1, windows)};
}

bool stands_out(const Standing& standing) {
  return standing.surely >= fewest_surely && standing.first >= least_first * standing.clear &&
         standing.outdone <= hardly_outdone * standing.first;
}

bool stands_alone(const Standing& standing) {
  return standing.surely >= fewest_alone && against(standing) <= hardly_beside * standing.first;
}

double share_outdone(const Standing& standing) {
  const double windows = against(standing);
  return windows < fewest_outdone ? 0 : windows / std::max(1, standing.first);
}

bool outdone(const Standing& standing) { return share_outdone(standing) > most_outdone; }

}  // namespace jigtime::sync
