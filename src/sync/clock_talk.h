// What the cameras' clocks say of two clips' places, and whether they bear out what sound proves where that alone does
// not tell one day from another.
// Must never know: samples.
//
// A song is the same on two days, and so is what little is heard where much else is. But on another day a camera's
// clock is not where this day's clips put it. No clock is believed for what it shows: what counts is by how much one
// camera's clock is ahead of another's, and that pairs proven by sound tell, or several doubted ones that agree.
#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// What proven pairs tell of the cameras' clocks. Both arguments of the constructor must outlive it; it knows the
/// matches as they were then.
class ClockTalk {
 public:
  ClockTalk(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches);

  enum class Says { nothing, the_same, otherwise, another_day };
  struct Opinion {
    Says says = Says::nothing;
    int pairs = 0;  ///< that say so
  };
  /// What the other pairs say of the match's place. A clock may have been set to another zone between, or have begun
  /// anew years ago: that says nothing.
  Opinion of(int match) const;
  /// Seconds that clip b is on when clip a begins; nothing without anything proven of their clocks, where they would
  /// not run together then, or would by two settings of a clock.
  std::optional<double> expected_lag(int a, int b) const;
  /// Doubted pairs that clocks bear out: they put one camera's clock as far ahead of the other's as proven pairs do, at
  /// once or by way of a third camera; or, where none is proven of these, they agree that the clocks are hardly apart,
  /// or that they show two zones' times, if they heard more than what a radio plays each hour, or, of clips farther
  /// apart than any song lasts, that they are the same few hours apart.
  std::vector<int> borne_out() const;

 private:
  /// What a pair says of two cameras' clocks.
  struct Word {
    int match = 0;
    int a = 0, b = 0;  ///< its clips
    double ahead = 0;  ///< seconds by which the clock of the camera of greater number is, where sound puts the clips
    double when = 0;   ///< by the other camera's clock, where the two begin to agree
    double heard = 0;  ///< seconds over which they do
    bool real = true;  ///< neither clock may have begun at its factory date
  };
  /// Words that agree.
  struct Setting {
    double ahead = 0;
    int pairs = 0;
  };
  using Cameras = std::pair<int, int>;  ///< the lesser number first
  /// Whose word does not count.
  struct Asked {
    int match = -1;
    int a = -1, b = -1;
    bool sharing = false;  ///< pairs that share a clip with it do
  };
  using Words = std::map<Cameras, std::vector<Word>>;

  Cameras cameras_of(const PairMatch& match) const;
  std::optional<Word> word_of(int match, const std::vector<Segment>& segments) const;
  Words words(std::vector<Segment> PairMatch::*segments) const;
  static std::vector<std::vector<Word>> groups_of(const std::vector<Word>& words);
  std::vector<Setting> proven(int x, int y, const Asked& asked) const;
  /// By how much y's clock is ahead of x's by what is proven, at once or by way of a third camera. Pairs that share a
  /// clip with the one that is asked of tell only where no others do: the shared clip's clock is in both.
  std::vector<Setting> known(int x, int y, const Asked& asked) const;
  std::vector<Setting> known_by(int x, int y, const Asked& asked) const;
  static bool plausible(const std::vector<Word>& group);

  const std::vector<ClipInput>& clips_;
  const std::vector<PairMatch>& matches_;
  std::vector<const ClockHint*> stamps_;  // by clip
  int cameras_ = 0;
  Words proven_;
  std::map<Cameras, std::vector<Setting>> settings_;  // by all that is proven
};

/// Doubted pairs that clocks bear out, or the places of the clips before and after, get segments. Those of a pair
/// against which the clocks speak, as two and more other pairs tell them, are doubted if nothing else ties its clips to
/// the session; if they tell another day, one such clip is enough.
void ask_cameras(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches);

}  // namespace jigtime::sync
