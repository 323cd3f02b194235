#include "report/leaders.h"

#include <algorithm>
#include <cmath>

#include "report/text_width.h"

namespace jigtime::report {
namespace {

constexpr double apart = 3;
/// A longer leader would be hard to follow.
constexpr double farthest_shift = 30;

bool by_place(const Leader& a, const Leader& b) { return a.bar_x < b.bar_x; }

/// Labels already placed, in order, as the room they take.
class Taken {
 public:
  Taken(Extent chart, double font_size) : chart_{chart}, font_size_{font_size} {}

  /// Pushes the label to the right of those before it. Precondition: leaders come in order of place.
  bool push(Leader& leader) {
    const double half = text_width(leader.text, font_size_) / 2;
    const double free_from = rooms_.empty() ? chart_.from : rooms_.back().to;
    return put(leader, std::min(std::max(leader.bar_x, free_from + half), chart_.to - half), half, free_from);
  }
  /// Only where there is room right below the bar.
  bool squeeze_in(Leader& leader) {
    const double half = text_width(leader.text, font_size_) / 2;
    const double x = std::clamp(leader.bar_x, chart_.from + half, std::max(chart_.from + half, chart_.to - half));
    const bool free = std::none_of(rooms_.begin(), rooms_.end(), [&](const Extent& room) {
      return x - half < room.to && room.from < x + half + apart;
    });
    return free && put(leader, x, half, chart_.from);
  }

 private:
  bool put(Leader& leader, double x, double half, double free_from) {
    if (x - half < free_from || std::abs(x - leader.bar_x) > farthest_shift) return false;
    leader.text_x = x;
    rooms_.push_back({x - half, x + half + apart});
    return true;
  }

  Extent chart_;
  double font_size_;
  std::vector<Extent> rooms_;
};

}  // namespace

int place_leaders(std::vector<Leader>& leaders, Extent chart, double baseline, double font_size) {
  std::sort(leaders.begin(), leaders.end(), by_place);
  Taken taken{chart, font_size};
  std::vector<Leader> placed;
  for (const Rank rank : {Rank::first, Rank::second}) {
    for (Leader& leader : leaders) {
      if (leader.rank != rank) continue;
      if (!(rank == Rank::first ? taken.push(leader) : taken.squeeze_in(leader))) continue;
      leader.text_y = baseline;
      placed.push_back(leader);
    }
  }
  const auto left_out = static_cast<int>(leaders.size() - placed.size());
  leaders = std::move(placed);
  std::sort(leaders.begin(), leaders.end(), by_place);
  return left_out;
}

}  // namespace jigtime::report
