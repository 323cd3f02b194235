#include "sync/follow_on.h"

#include "sync/at.h"
#include "sync/clocks.h"

namespace jigtime::sync {

namespace {

// Seconds between the end of a part and the beginning of the next: files are closed late, and cut at a whole picture.
constexpr double least_pause = -0.2;
constexpr double most_pause = 1;

/// A clip's beginning and end in another one's seconds.
struct Stay {
  int clip = 0;
  int other = 0;
  double begin = 0;
  double end = 0;
};

Stay stay_of(const std::vector<ClipInput>& clips, const PairMatch& match, const std::vector<Segment>& segments,
             int clip) {
  const bool is_a = match.a == clip;
  const auto there = [&](const Segment& segment, double t) {
    return t + (is_a ? segment.fit.line : reversed(segment.fit.line))(t);
  };
  return {clip, is_a ? match.b : match.a, there(segments.front(), 0),
          there(segments.back(), to_seconds(clips[at(clip)].length))};
}

std::vector<Stay> stays_of(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches) {
  std::vector<Stay> stays;
  for (const PairMatch& match : matches) {
    if (match.segments.empty()) continue;
    for (const int clip : {match.a, match.b}) stays.push_back(stay_of(clips, match, match.segments, clip));
  }
  return stays;
}

}  // namespace

std::vector<int> following_on(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches) {
  const std::vector<Stay> proven = stays_of(clips, matches);
  const std::vector<const ClockHint*> stamps = good_stamps(clips);
  const auto follows = [&](const Stay& asked) {
    const auto number = clips[at(asked.clip)].number;
    if (stamps[at(asked.clip)] != nullptr) return false;
    bool next_to_one = false;
    for (const Stay& one : proven) {
      if (one.other != asked.other || clips[at(one.clip)].camera != clips[at(asked.clip)].camera) continue;
      const auto its = clips[at(one.clip)].number;
      if (!number || !its || (*its != *number - 1 && *its != *number + 1)) continue;
      const double pause = *its < *number ? asked.begin - one.end : one.begin - asked.end;
      if (pause < least_pause) return false;
      next_to_one = next_to_one || pause <= most_pause;
    }
    return next_to_one;
  };
  std::vector<int> found;
  for (int m = 0; m < static_cast<int>(matches.size()); ++m) {
    const PairMatch& match = matches[at(m)];
    if (match.doubted.empty()) continue;
    if (follows(stay_of(clips, match, match.doubted, match.a)) ||
        follows(stay_of(clips, match, match.doubted, match.b))) {
      found.push_back(m);
    }
  }
  return found;
}

}  // namespace jigtime::sync
