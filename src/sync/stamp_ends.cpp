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

struct Votes {
  int begin = 0;
  int end = 0;
  void add(bool for_begin, bool for_end) {
    if (for_begin == for_end) return;
    ++(for_begin ? begin : end);
  }
};

/// The most trusted reading of the clip's that may mark the end of its file; null without one.
const ClockHint* in_question(const ClipInput& clip) {
  const ClockHint* best = nullptr;
  for (const ClockHint& hint : clip.clocks) {
    if (hint.if_end > Length{0} && (best == nullptr || hint.trust < best->trust)) best = &hint;
  }
  return best;
}

double wall_seconds(const ClockHint& hint) { return to_seconds(hint.clip_zero.time_since_epoch()); }

/// What a proven pair says of how far a camera's clock is ahead of another camera's.
struct Word {
  int clip = 0;
  int other_camera = 0;
  double if_begin = 0;
  double if_end = 0;
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
    for (const Word& word : words_) votes.add(same_but_for_zones(word.if_begin), same_but_for_zones(word.if_end));
    for (std::size_t i = 0; i < words_.size(); ++i) {
      for (std::size_t k = i + 1; k < words_.size(); ++k) {
        const Word &one = words_[i], &other = words_[k];
        if (one.clip == other.clip || one.other_camera != other.other_camera) continue;
        votes.add(std::abs(one.if_begin - other.if_begin) < alike, std::abs(one.if_end - other.if_end) < alike);
      }
    }
    for (std::size_t i = 1; i < stamps_.size(); ++i) {
      const double between = wall_seconds(*stamps_[i]) - wall_seconds(*stamps_[i - 1]) + late;
      if (stamps_[i]->trust != stamps_[i - 1]->trust || between <= late) continue;
      votes.add(between >= to_seconds(stamps_[i - 1]->if_end), between >= to_seconds(stamps_[i]->if_end));
    }
    return votes;
  }

 private:
  /// `other` begins `later` seconds before the clip does.
  void add(int clip, int other, double later) {
    const ClockHint* const own = in_question(clips_[at(clip)]);
    const ClockHint* const its = best_hint(clips_[at(other)]);
    if (own == nullptr || its == nullptr || own->trust != its->trust) return;
    const double ahead = to_seconds(own->clip_zero - its->clip_zero) + later;
    words_.push_back({clip, clips_[at(other)].camera, ahead, ahead - to_seconds(own->if_end)});
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
    if ((told.begin > 0) == (told.end > 0)) continue;
    for (ClockHint& hint : clip.clocks) {
      if (told.end > 0) hint.clip_zero -= hint.if_end;
      hint.if_end = Length{0};
    }
  }
}

}  // namespace jigtime::sync
