// The plan of the demo's session: what happens when, which cameras stand where and what goes wrong with them.
//
// The scene. On a Saturday in March Tova Brandel rivets the upper skin of a left elevator in her village workshop
// (people, place and aircraft are invented). She pins the skin to its ribs and drills the holes; Emil Karsk comes to
// hold the bucking bar; they rivet, drink tea for a while, rivet on, check, replace one rivet and tidy up.
//
// The cameras.
//   bench     mp4, AAC at 48 kHz, 25 pictures a second. One recording in three parts; the next one breaks off while it
//   is
//             being written (the battery died): an mp4 without an index.
//   overhead  mov, PCM at 44.1 kHz, 30000/1001 pictures. Still on summer time: its clock is an hour ahead. Overheats
//   after
//             a third of the session and comes back after the break; then loses twelve pictures and their sound inside
//             a clip, and its time stamps do not show it.
//   side      Matroska, MP3 at 32 kHz, 24 pictures; names its files by its clock. Loses power in the break and starts
//             again at its factory date; one clip has no sound.
// Each camera's clock runs at its own rate, some tens of parts per million off.
//
// Truth. Scene time is the session clock: its zero is the first picture of the earliest recording. Picture n and sound
// sample n of a recording happen at begin + (n / rate) * (1 + ppm * 1e-6). Sound is what arrives at the microphone
// at that instant, so lining up by sound differs from the truth by the difference of the paths from the work to the
// microphones. They stand 2.4 to 2.5 m from the middle of the skin, less than 0.1 m apart, and the rivets are set from
// the middle rib outwards, both sides in turn: one rivet can be 3 ms off, the middle of a clip's sounds less than
// 2 ms. Matroska counts in milliseconds, which moves the side camera's pictures against its sound by half of one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/time.h"
#include "demo/geometry.h"

namespace jigtime::demo {

/// Scene time in seconds, for signal arithmetic and drawing. Tags are kept in SessionTime.
using Seconds = double;

/// The quick session has every oddity of the full one, with everything but the blows and words shortened to 4/15.
enum class Size { full, quick };

enum class Activity { arrive, pin, drill, rivet, study, away, check, replace, tidy, leave };

struct Phase {
  Seconds begin = 0;
  Seconds end = 0;
  Activity activity = Activity::arrive;
};

/// Half-open stretch of scene time.
struct Stretch {
  Seconds begin = 0;
  Seconds end = 0;
  bool holds(Seconds t) const { return begin <= t && t < end; }
};

/// A factor for each colour: every camera sees the same bench a little differently.
struct Tint {
  double red = 1;
  double green = 1;
  double blue = 1;
};

struct MicrophonePlan {
  double gain = 1;
  double noise = 0;          ///< of its own, uniform to plus and minus this, before the gain
  double low_pass_hz = 0;    ///< upper end of its band
  double reverberation = 0;  ///< share of the room's sound against the direct one
};

struct CameraPlan {
  std::string name;  ///< nickname, and the folder its card is copied to
  Point at;
  Point looks_at;
  double field_degrees = 60;
  Dot clock_at;  ///< where the shop clock hangs in its picture, as shares of width and height
  Tint tint;
  double rate_ppm = 0;  ///< scene seconds are longer than the camera's by this
  std::string container;
  std::string picture_codec;
  std::string sound_codec;
  int width = 320;
  int height = 180;
  int rate_num = 25;
  int rate_den = 1;
  int picture_bits_per_second = 0;
  int sample_rate_hz = 48000;
  int channels = 1;
  int sound_bits_per_second = 0;
  MicrophonePlan microphone;
};

enum class SoundTrack { recorded, missing };
enum class Ending { proper, cut_off };

/// `pictures` and their sound, lost from clip time `after` on; the time stamps go on as if nothing were missing.
struct Lost {
  Seconds after = 0;
  int pictures = 0;
};

struct RecordingPlan {
  int camera = 0;
  int first_number = 0;  ///< the card's running number of the first part
  Seconds begin = 0;
  Seconds end = 0;
  std::vector<Seconds> splits;  ///< clip times where the camera begins another part
  SoundTrack sound = SoundTrack::recorded;
  Ending ending = Ending::proper;
  std::optional<Lost> lost;
  Length clock_error{0};  ///< the camera's clock minus true time
};

struct Scenario {
  Size size = Size::full;
  Seconds length = 0;
  WallTime zero;  ///< true time of scene time zero
  std::vector<Phase> phases;
  std::vector<Stretch> helper_at_bench;  ///< holds the bucking bar
  Stretch helper_at_vice;                ///< files brackets there instead
  Stretch compressor;
  std::vector<CameraPlan> cameras;
  std::vector<RecordingPlan> recordings;  ///< by camera, in time order

  const Phase& phase_at(Seconds t) const;
  /// Scales a time of the full session's table to this session.
  Seconds scaled(Seconds full) const;
};

inline constexpr const char* builder_name = "Tova Brandel";
inline constexpr const char* helper_name = "Emil Karsk";

Scenario make_scenario(Size size);

}  // namespace jigtime::demo
