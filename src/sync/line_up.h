// Sound and clocks in, placements with their doubt out.
// Must never know: the journal, files, decoding, the window.
// Begin reading at: line_up. The steps: features (what tells events from noise), block_search and candidates (where two
// clips may lie), schedule (which pairs are worth a closer look), lag_map (proof by the sum of many windows), track and
// jump (losses), observe and judge (what is worth how much), graph and solve (all clips at once), one_at_a_time (what
// no camera can have filmed), partings (where two no longer hear the same), clocks and assemble (the rest, and the
// answer).
//
// Rule above all: never silently wrong. A clip without proof by sound gets basis clock (with an honest error) or none.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "base/piece.h"
#include "base/result.h"
#include "base/time.h"

namespace jigtime::sync {

/// Rate of all sound that this module takes.
inline constexpr int sample_rate_hz = 16000;

/// One clip's sound at sample_rate_hz on an even grid: sample n is heard at clip time origin() + n / sample_rate_hz.
/// Gaps in the file are zeros and are named by silent_gaps. Implementations may read from disk; they are used from
/// several threads at once.
class Sound {
 public:
  virtual ~Sound() = default;
  virtual ClipTime origin() const = 0;
  virtual std::int64_t count() const = 0;
  /// Fills `out` with the samples from `first` on; zeros outside [0, count()).
  virtual Done read(std::int64_t first, std::span<float> out) const = 0;
};

/// What coarse matching needs of one clip; small, made while decoding, and kept between runs.
struct Features {
  static constexpr int version = 2;  ///< part of any cache key
  ClipTime origin;                   ///< time of the centre of frame 0
  int frames = 0;
  std::vector<std::uint8_t> bytes;  ///< opaque: this module's own layout
};

/// Fed with consecutive samples of the even grid; holds a few seconds of them at the most.
class FeatureMaker {
 public:
  explicit FeatureMaker(ClipTime origin);
  FeatureMaker(FeatureMaker&&) noexcept;
  FeatureMaker& operator=(FeatureMaker&&) noexcept;
  ~FeatureMaker();
  void add(std::span<const float> samples);
  Features finish();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// Wall time of a clip's zero as one of its clocks tells it.
struct ClockHint {
  WallTime clip_zero;
  Length sigma{
      0};  ///< honest standard error of this reading taken by itself (resolution, kind of clock), wrong settings aside
  int trust = 0;  ///< 0 is the most trusted kind; hints of one kind are comparable across clips of a camera
  /// How much earlier the clip's zero is should the reading mark the end of the file: its length. Zero where that is
  /// known.
  Length if_end{0};
};

struct ManualPlace {
  ClipTime at;
  SessionTime is;
};

/// Two marks on the same event in two clips, by eye or ear: right to a hundredth of a second.
struct Tie {
  int clip_a = 0;
  ClipTime at_a;
  int clip_b = 0;
  ClipTime at_b;
};

struct ClipInput {
  int camera = 0;  ///< clips of one camera never overlap
  /// Place among the camera's clips in the order of their names, as it numbered them; nothing where that is not known.
  std::optional<int> number{};
  Length length{0};                  ///< of the pictures (sound where there are none)
  std::vector<ClipTime> joins{};     ///< where the parts of the recording meet: a step is more likely there
  std::vector<ClipRange> missing{};  ///< ranges that the file's own time stamps skip
  std::vector<ClockHint> clocks{};
  /// Where the last line-up put the clip's zero, by sound or clock. Where clips are placed by hand, this says on which
  /// session clock that was.
  std::optional<SessionTime> before{};
  std::optional<ManualPlace> manual{};  ///< held as given
  const Features* features = nullptr;   ///< none: a clip without sound
  const Sound* sound = nullptr;
};

enum class Basis { audio, clock, manual, none };

struct Evidence {
  int with = 0;  ///< index of the other clip
  Length overlap{0};
  double score = 0;  ///< how far the sum of all windows stands out, in standard errors of luck
  int windows = 0;
  int agreed = 0;
};

/// Why two clips of one camera cannot lie as sound says.
enum class Impossible {
  at_once,     ///< it would have filmed both at once
  order,       ///< it numbered and dated them the other way round, or others between them that find no room
  two_clocks,  ///< its clock and another camera's would both have been set on by the same time between the same clips
};

/// What the builder should know, as data; actions turns it into sentences.
struct Note {
  enum class Kind {
    two_places,         ///< `other` places were equally good: refused; `at` and `at_2` are both offered
    no_common_sound,    ///< nothing in common with any other clip
    too_short,          ///< too little sound to prove anything
    silent,             ///< nothing but silence
    no_sound,           ///< the clip has no sound at all
    dropout,            ///< `length` lost (or doubled, if negative) at clip time `clip_at`, give or take `loose`
    dropout_in_either,  ///< a step between this clip and `other`; which of them lost it cannot be known
    clock_reset,        ///< the camera's clock jumped before this clip
    clock_wrong,        ///< the camera's clock is off by `length`
    manual_disagrees,   ///< the sound says `at`, the builder placed it elsewhere
    unconnected,        ///< lies on sound with others that share nothing with the rest: placed against them by clock
    adrift,             ///< lies on sound with `other`, but neither sound nor a clock ties them to the rest: no place
    not_then,           ///< its sound fits `other` at `at`, but for `clash` and `clash_2`, of one camera, that cannot
                        ///< be: refused
    perhaps_then,       ///< its sound fits `other` at `at`, but sound of another day might as well, and no clocks bear
                        ///< it out: refused
    parts_company,      ///< after `clip_at`, or before it if `before`, it and `other` no longer hear the same
    clock_at_once,      ///< by the time it carries its camera would have filmed `other` at once: not placed by it
  };
  Kind kind = Kind::no_common_sound;
  int other = -1;
  ClipTime clip_at{};
  Length length{0};
  Length loose{0};  ///< of a dropout: nothing was heard so long before and behind that tells where it is
  /// Of a dropout that nobody heard, what tells of it. By the last two nothing was moved: it is only a doubt.
  enum class Supposed {
    no,
    joins,    ///< as much is missing at the recording's other joins
    at_once,  ///< `clash` and `clash_2`, of one camera, would run at once for so long, and it may be more
    clock,    ///< between `clash` and `clash_2` that much more passed by their camera's clock than as they lie
  };
  Supposed supposed = Supposed::no;
  SessionTime at{};
  SessionTime at_2{};
  bool beside_other = false;  ///< `other` has no place itself: `at` and `at_2` count from where it begins
  int clash = -1;
  int clash_2 = -1;
  Impossible why = Impossible::at_once;
  bool before = false;
};

struct ClipResult {
  Basis basis = Basis::none;
  bool tied = false;          ///< nothing but a tie holds it; basis is manual
  std::vector<Piece> pieces;  ///< empty exactly when basis is none
  std::vector<Evidence> evidence;
  std::vector<Note> notes;
};

struct CameraResult {
  bool known = false;
  Length clock_offset{0};     ///< the camera's clock (its most trusted kind) minus the session's wall clock
  std::int64_t rate_ppb = 0;  ///< of the session clock against this camera's; 0 for the reference
};

struct LineUp {
  std::vector<ClipResult> clips;  ///< one for each input, same order
  std::vector<CameraResult> cameras;
  int reference = 0;             ///< camera whose rate the session clock follows
  std::optional<WallTime> zero;  ///< wall time of session zero by the most trusted clock
};

/// What two clips said about each other in an earlier line-up, kept by the caller so that it need not be asked again.
/// Both clips must be the very same, sound, features and joins. What comes back garbled is worked out anew.
class PairMemory {
 public:
  static constexpr int version = 38;  ///< part of any cache key, beside Features::version
  virtual ~PairMemory() = default;
  virtual std::optional<std::vector<std::uint8_t>> recall(int clip_a, int clip_b) = 0;
  /// The same pair may be kept more than once: the last one counts. Called one at a time.
  virtual void keep(int clip_a, int clip_b, std::vector<std::uint8_t> facts) = 0;
};

struct Watch {
  std::stop_token stop;
  std::function<void(double fraction)> progress{};  ///< may be empty; called from any thread, one at a time
  int threads = 2;
  PairMemory* memory = nullptr;
};

/// Session zero is the first instant of the earliest placed clip, unless a manual placement fixes the clock.
/// Errors: cancelled, or what Sound::read failed with on every clip; one unreadable clip only loses its own sound.
Result<LineUp> line_up(const std::vector<ClipInput>& clips, int cameras, const std::vector<Tie>& ties,
                       const Watch& watch);

}  // namespace jigtime::sync
