// Everything that happens in the session, moment by moment, drawn from the plan and the same for every camera.
// Begin reading at: Story.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "demo/dice.h"
#include "demo/geometry.h"
#include "demo/scenario.h"

namespace jigtime::demo {

/// The elevator's skin lies on cradles above the bench, its ribs across.
inline constexpr int ribs = 7;
inline constexpr int holes_on_rib = 8;
inline constexpr int hole_count = ribs * holes_on_rib;
inline constexpr double skin_height = 1.04;

/// Where a hole is, 0 <= hole < hole_count; holes of one rib follow each other from south to north.
Point hole_at(int hole);

enum class SoundKind {
  blows,       ///< the rivet gun, one blow at each of `blows`
  tap,         ///< a mallet or a tool put down on the bench
  tin,         ///< rivets or skin pins stirred in a tin
  click,       ///< a skin pin opening or closing
  drill,       ///< air drill
  file,        ///< one stroke of a file
  brush,       ///< one stroke of a brush
  words,       ///< a phrase
  door,        ///< the workshop door falls shut
  fan,         ///< a piece of the fan's noise that overlaps its neighbours
  compressor,  ///< the same for the compressor
};

struct SoundEvent {
  SoundKind kind = SoundKind::tap;
  Seconds begin = 0;
  Seconds length = 0;  ///< what follows it rings out within ring_out
  Point at;
  double level = 0;  ///< peak at one metre, roughly
  std::uint64_t seed = 0;
  std::vector<float> blows;  ///< seconds after begin
  double pitch = 1;          ///< of a voice
};

/// No event sounds longer than this after its length.
inline constexpr Seconds ring_out = 0.35;

/// One pull of the trigger.
struct Burst {
  Seconds begin = 0;  ///< first blow
  Seconds end = 0;    ///< last blow
  std::vector<float> blows;
};

struct Rivet {
  int hole = 0;
  std::vector<Burst> bursts;
  Seconds set_at = 0;
};

enum class HoleState { open, pinned, rivet };

struct HoleChange {
  Seconds at = 0;
  int hole = 0;
  HoleState state = HoleState::open;
};

enum class Tool { none, pliers, drill, gun, bar, mirror, brush, plans, file };

/// What a pair of hands does at one place; between acts the hands move on.
struct Act {
  Seconds begin = 0;
  Seconds end = 0;
  Tool tool = Tool::none;
  Point at;
};

struct Story {
  std::vector<SoundEvent> sounds;   ///< by begin
  std::vector<Rivet> rivets;        ///< in the order of setting; a replaced one is there twice
  std::vector<HoleChange> changes;  ///< by time
  std::vector<Act> builder;         ///< in order, not overlapping
  std::vector<Act> helper;
  std::vector<Stretch> builder_in;  ///< is in the workshop
  std::vector<Stretch> helper_in;
  std::vector<Stretch> builder_talks;
  std::vector<Stretch> helper_talks;
  std::vector<Stretch> lamp;  ///< the gun's lamp is lit: one for each burst
  Seconds drilled_out_at = 0;
  Seconds drilled_one_set_at = 0;  ///< when the rivet that is drilled out had been set

  /// Rivets set in [from, to), and how many of them are drilled out later.
  int set_within(Seconds from, Seconds to) const;
  int drilled_within(Seconds from, Seconds to) const;
};

/// Deterministic: the same scenario always gives the same story.
Story tell(const Scenario& scenario);

}  // namespace jigtime::demo
