#include "sync/leaning.h"

#include <vector>

#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double same_place = 0.004;  // seconds around the line
constexpr double louder = 2;          // than usual
/// Units of Frames::activity in a window, on an average: of what is easier to hear, the loud must agree by itself. Own
/// simulation: two lines of a song on two days with 42 and 76 leaned with a sum of 11 and 6.4, because the song went
/// on; of twelve lines of one day that leaned eight had less than 28, and three of the others did not need it.
constexpr double most_audible = 28;
constexpr int fewest = 2, fewest_beside = 4, fewest_louder = 3;  // windows: less tell nothing by themselves
/// Own simulation, same song on two days, 40 judged lines: all loud windows reach 6.4 where the song was heard under
/// the work, those beside it 2.8, the loudest 4.1. Of clips that belong together the faintest had 4.6, 4.4 and 5.8.
constexpr Demand all_lean{5.5, 1.3, 0}, beside_lean{4.2, 1.2, 0}, loudest_lean{4.5, 1.2, 0};

template <class Wanted>
std::vector<int> windows_where(const Segment& segment, const Wanted& wanted) {
  std::vector<int> windows;
  for (std::size_t w = 0; w < segment.glimpses.size(); ++w) {
    const Glimpse& one = segment.glimpses[w];
    if (!one.agrees && wanted(one)) windows.push_back(static_cast<int>(w));
  }
  return windows;
}

bool lean(const LagMap& map, const std::vector<int>& windows, const Line& line, const Demand& demand) {
  const LagMap own = map.of(windows);
  // One event may decide: it is the windows without any clear one that are asked.
  return holds(blurred_line(own, {0, own.windows() - 1}, {.about = line, .near = same_place, .one_event = 0}), demand);
}

}  // namespace

bool loud_leans(const LagMap& map, const Segment& segment) {
  const auto usual = usual_of(segment);
  if (!usual || segment.audible > most_audible * static_cast<double>(segment.glimpses.size())) return false;
  const auto beside = [&](const Glimpse& one) {
    return one.at < segment.from - half_window || one.at > segment.to + half_window;
  };
  const Line& line = segment.fit.line;
  const auto is_loud = [&](const Glimpse& one) { return usual->reached_by(one, as_loud_as_usual); };
  const auto loud = windows_where(segment, is_loud);
  if (std::ssize(loud) < fewest || !lean(map, loud, line, all_lean)) return false;
  const auto outside = windows_where(segment, [&](const Glimpse& one) { return is_loud(one) && beside(one); });
  if (std::ssize(outside) >= fewest_beside && !lean(map, outside, line, beside_lean)) return false;
  const auto loudest = windows_where(segment, [&](const Glimpse& one) { return usual->reached_by(one, louder); });
  return std::ssize(loudest) < fewest_louder || lean(map, loudest, line, loudest_lean);
}

}  // namespace jigtime::sync
