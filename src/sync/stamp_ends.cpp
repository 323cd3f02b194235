#include "sync/stamp_ends.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"
#include "sync/clocks.h"

namespace jigtime::sync {

namespace {

// Seconds.
constexpr double alike = 2.5;  // between two words about the same clocks
constexpr double late = 3;     // a camera may stamp that much after the key press

constexpr int fewest_for_end = 2;  // votes, one of them by a pair; that clocks are the same to the second counts twice
constexpr int most_for_end = 9;    // for each that says otherwise

enum class Edge { none, begin, end };

Edge one_of(bool begin, bool end) { return begin == end ? Edge::none : begin ? Edge::begin : Edge::end; }

struct Votes {
  int begin = 0;
  int end = 0;
  int end_by_pairs = 0;
  void add(Edge edge, bool by_pair, int counts = 1) {
    begin += edge == Edge::begin ? 1 : 0;
    end += edge == Edge::end ? counts : 0;
    end_by_pairs += edge == Edge::end && by_pair ? counts : 0;
  }
  bool for_ends() const { return end >= fewest_for_end && end_by_pairs > 0 && begin * most_for_end <= end; }
  bool for_beginnings() const { return begin > 0 && end == 0; }
};

/// The most trusted reading of the clip's that may mark the end of its file; null without one.
const ClockHint* in_question(const ClipInput& clip) {
  const ClockHint* best = nullptr;
  for (const ClockHint& hint : clip.clocks) {
    if (hint.if_end > Length{0} && (best == nullptr || hint.trust < best->trust)) best = &hint;
  }
  return best;
}

/// What a proven pair says of how far a camera's clock is ahead of another camera's.
struct Word {
  int clip = 0;
  int other_camera = 0;
  double if_begin = 0;
  double if_end = 0;
  double if_its_end = 0;  ///< how much more, should the other camera's mark ends
  double doubt = 0;       ///< of both stamps
};

class Camera {
 public:
  Camera(const std::vector<PairMatch>& matches, const std::vector<ClipInput>& clips, int number) : clips_{clips} {
    for (const PairMatch& match : matches) {
      if (match.segments.empty()) continue;
      const Segment& first = match.segments.front();
      const double lag = first.fit.line(first.from);
      if (clips[at(match.a)].camera == number) add(match.a, match.b, -lag);
      if (clips[at(match.b)].camera == number) add(match.b, match.a, lag);
    }
    for (const ClipInput& clip : clips) {
      if (clip.camera != number) continue;
      if (const ClockHint* const hint = in_question(clip)) stamps_.push_back(hint);
    }
    std::ranges::sort(stamps_, {}, [](const ClockHint* hint) { return hint->clip_zero; });
  }

  Votes votes() const {
    Votes votes;
    for (const Word& word : words_) votes.add(by_zones(word), true, std::abs(word.if_end) <= alike ? 2 : 1);
    for (std::size_t i = 0; i < words_.size(); ++i) {
      for (std::size_t k = i + 1; k < words_.size(); ++k) {
        const Word &one = words_[i], &other = words_[k];
        if (one.clip == other.clip || one.other_camera != other.other_camera) continue;
        // Should the other camera's mark ends, that is the same for both only if they are of one clip of its.
        if (one.if_its_end != other.if_its_end) continue;
        const double same = alike + std::max(one.doubt, other.doubt) / 2;
        votes.add(one_of(std::abs(one.if_begin - other.if_begin) < same, std::abs(one.if_end - other.if_end) < same),
                  true);
      }
    }
    for (std::size_t i = 1; i < stamps_.size(); ++i) {
      const ClockHint &first = *stamps_[i - 1], &second = *stamps_[i];
      if (first.trust != second.trust || first.clip_zero == second.clip_zero) continue;
      const double between =
          to_seconds(second.clip_zero - first.clip_zero) + late + to_seconds(first.sigma + second.sigma) / 2;
      votes.add(one_of(between >= to_seconds(first.if_end), between >= to_seconds(second.if_end)), false);
    }
    return votes;
  }

 private:
  /// By zones, unless it would say the opposite should the other camera's mark ends.
  static Edge by_zones(const Word& word) {
    const auto told = [&](double its) {
      return one_of(same_but_for_zones(word.if_begin + its), same_but_for_zones(word.if_end + its));
    };
    const Edge edge = told(0), otherwise = told(word.if_its_end);
    return otherwise == Edge::none || otherwise == edge ? edge : Edge::none;
  }

  /// `other` begins `later` seconds after the clip does.
  void add(int clip, int other, double later) {
    const ClockHint* const own = in_question(clips_[at(clip)]);
    const ClockHint* const its = best_hint(clips_[at(other)]);
    if (own == nullptr || its == nullptr || own->trust != its->trust) return;
    const double ahead = to_seconds(own->clip_zero - its->clip_zero) + later;
    words_.push_back({clip, clips_[at(other)].camera, ahead, ahead - to_seconds(own->if_end), to_seconds(its->if_end),
                      to_seconds(own->sigma + its->sigma)});
  }

  const std::vector<ClipInput>& clips_;
  std::vector<Word> words_;
  std::vector<const ClockHint*> stamps_;
};

}  // namespace

void settle_ends(const std::vector<PairMatch>& matches, std::vector<ClipInput>& clips) {
  int cameras = 0;
  for (const ClipInput& clip : clips) cameras = std::max(cameras, clip.camera + 1);
  std::vector<Votes> votes;
  for (int camera = 0; camera < cameras; ++camera) votes.push_back(Camera{matches, clips, camera}.votes());
  for (ClipInput& clip : clips) {
    const Votes& told = votes[at(clip.camera)];
    if (!told.for_ends() && !told.for_beginnings()) continue;
    for (ClockHint& hint : clip.clocks) {
      if (told.for_ends()) hint.clip_zero -= hint.if_end;
      hint.if_end = Length{0};
    }
  }
}

}  // namespace jigtime::sync
