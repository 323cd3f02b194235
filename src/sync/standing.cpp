#include "sync/standing.h"

#include <algorithm>
#include <cmath>

#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double clear = 4.7;  // of a window's highest sample: luck among some hundred gives less
constexpr double far_out = 6;
constexpr double clearly_more = 1.3;
constexpr double ways = 0.012;     // seconds around a line: microphones up to four metres apart
constexpr double around = 0.24;    // seconds
constexpr int fewest_surely = 3;
constexpr double least_first = 0.5;  // of the clear windows
// Own simulation, outdone windows for each that is first: one line in thirty where clips belong together has as many as
// `most_outdone`, and of those by which clips of different days agree half have.
constexpr double most_outdone = 0.5;
constexpr double hardly_outdone = 0.25;
constexpr int fewest_outdone = 3;

}  // namespace

Rank rank_of(const LagMap& map, int window, const Line& line) {
  const double lag = line(map.time(window));
  const LagPeak all = map.highest(window, lag, around);
  if (all.z < clear) return Rank::none;
  if (std::abs(all.lag - lag) <= ways) return all.z >= far_out ? Rank::surely : Rank::first;
  if (all.z < far_out) return Rank::unclear;
  return all.z >= clearly_more * map.highest(window, lag, ways).z ? Rank::outdone : Rank::unclear;
}

Standing standing_of(const LagMap& map, const Line& line) {
  Standing standing;
  for (int w = 0; w < map.windows(); ++w) {
    const Rank rank = rank_of(map, w, line);
    standing.clear += rank != Rank::none ? 1 : 0;
    standing.first += rank == Rank::first || rank == Rank::surely ? 1 : 0;
    standing.surely += rank == Rank::surely ? 1 : 0;
    standing.outdone += rank == Rank::outdone ? 1 : 0;
  }
  return standing;
}

bool stands_out(const Standing& standing) {
  return standing.surely >= fewest_surely && standing.first >= least_first * standing.clear &&
         standing.outdone <= hardly_outdone * standing.first;
}

double share_outdone(const std::vector<Segment>& segments) {
  const Segment& main = strongest(segments);
  int first = 0, outdone = 0;
  const auto count = [&](const Glimpse& one) {
    first += one.rank == Rank::first || one.rank == Rank::surely ? 1 : 0;
    outdone += one.rank == Rank::outdone ? 1 : 0;
  };
  for (const Segment& segment : segments) {
    for (const Glimpse& one : segment.glimpses) {
      if (one.at >= segment.from && one.at <= segment.to) count(one);
    }
  }
  for (const Glimpse& one : main.glimpses) {
    const auto in = [&](const Segment& segment) { return one.at >= segment.from && one.at <= segment.to; };
    if (std::none_of(segments.begin(), segments.end(), in)) count(one);
  }
  return outdone < fewest_outdone ? 0 : static_cast<double>(outdone) / std::max(1, first);
}

bool outdone(const std::vector<Segment>& segments) { return share_outdone(segments) > most_outdone; }

}  // namespace jigtime::sync
