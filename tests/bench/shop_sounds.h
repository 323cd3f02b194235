// The sounds of a shop, made from a number: the same number gives the same sound.
// Rates of blows: US Navy training manual 14018 (Aviation Structural Mechanic), chapter on rivet guns, names 2,500
// blows a minute for slow and 2,500 to 5,000 for fast guns (41.7 to 83.3 a second); builders' guns run from 900 a
// minute (15 a second). Everything else here (modes, levels, lengths) is made up to be varied, not measured.
#pragma once

#include <cstdint>
#include <memory>
#include <span>

namespace jigtime::bench {

inline constexpr int rate_hz = 16000;

enum class SoundKind {
  rivet_burst,  ///< 0.3 to 1.5 s of blows, the rate rising as the trigger is pulled
  clatter,      ///< a tool put down, a sheet knocked: one to four impacts
  hand_hammer,  ///< 2 to 4 blows a second
  drill,        ///< an air drill's whine, 1 to 6 s
  phrase,       ///< syllables
  song,         ///< a loop with a melody over it
  compressor,   ///< strokes at 12 to 30 a second, minutes long
  fan,          ///< steady tone and rush
  three_claps,  ///< the builder's hand signal
  white_noise,
};

struct SoundEvent {
  SoundKind kind = SoundKind::clatter;
  std::uint64_t number = 0;  ///< what it sounds like
  std::int64_t begin = 0;    ///< in samples of the true clock
  std::int64_t length = 0;   ///< in samples
  int position = 0;          ///< which place of the shop it comes from
  float level = 1;           ///< root mean square while it sounds
  std::int64_t end() const { return begin + length; }
};

/// Work, talk and knocks; false for what runs on by itself in the background.
bool is_foreground(SoundKind kind);

/// A natural length for this sound, in samples; for the steady ones the caller chooses.
std::int64_t natural_length(SoundKind kind, std::uint64_t number);

/// One event, ready to be played.
class Voice {
 public:
  virtual ~Voice() = default;
  /// Adds the samples from `first` of the event on to `out`; nothing beyond the event's length.
  virtual void add_to(std::int64_t first, std::span<float> out) const = 0;
};

std::unique_ptr<Voice> make_voice(const SoundEvent& event);

}  // namespace jigtime::bench
