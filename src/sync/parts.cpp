#include "sync/parts.h"

#include <algorithm>
#include <cmath>

#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr int fewest_of_part = 5;      // windows between two joins, for them to tell
constexpr double gain_of_part = 2.5;   // in standard errors, of each on its own line
constexpr double most_askew = 400e-6;  // by how much a line through several parts may be too steep

/// What lies between joins, in order; what holds too few windows goes with its neighbour.
std::vector<Stretch> between(const LagMap& map, std::span<const double> joins) {
  std::vector<Stretch> stretches;
  int first = 0;
  for (std::size_t join = 0; join <= joins.size(); ++join) {
    int end = first;
    while (end < map.windows() && (join == joins.size() || map.time(end) < joins[join])) ++end;
    if (end - first >= fewest_of_part) {
      stretches.push_back({first, end - 1});
      first = end;
    } else if (join == joins.size() && !stretches.empty()) {
      stretches.back().last = map.windows() - 1;
    }
  }
  return stretches;
}

}  // namespace

std::vector<double> joins_of(const Hearable& a, const Hearable& b, const Line& line) {
  std::vector<double> joins = a.joins;
  for (const double t : b.joins) joins.push_back(t + reversed(line)(t));
  std::sort(joins.begin(), joins.end());
  return joins;
}

std::vector<Candidate> parted_at(const LagMap& map, const Candidate& whole, double half,
                                 std::span<const double> joins) {
  const std::vector<Stretch> stretches = between(map, joins);
  if (stretches.size() < 2) return {};
  const Line& line = whole.line;
  std::vector<Candidate> parts;
  double gained = 0;
  bool moved = false;
  for (const Stretch& windows : stretches) {
    const Backing own = blurred_line(map, windows, {.about = line, .near = longest_blow, .slope_reach = most_askew});
    gained += own.z - blurred_line(map, windows, {.about = line, .near = same_sound}).z;
    const double at = map.time(windows.first);
    moved = moved || (!parts.empty() && std::abs(own.line(at) - parts.back().line(at)) >= least_jump);
    Candidate part = whole;
    part.line = own.line;
    part.from = at - half;
    part.to = map.time(windows.last) + half;
    parts.push_back(part);
  }
  // Each has some luck in its choice.
  return moved && gained >= gain_of_part * static_cast<double>(parts.size()) ? parts : std::vector<Candidate>{};
}

}  // namespace jigtime::sync
