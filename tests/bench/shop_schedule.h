// What happens in the shop, and when: a list of sound events on the true clock.
#pragma once

#include <cstdint>
#include <vector>

#include "bench/random.h"
#include "bench/shop_sounds.h"

namespace jigtime::bench {

/// Places of the shop by their index.
inline constexpr int compressor_position = 0;
inline constexpr int radio_position = 1;
inline constexpr int fan_position = 2;
inline constexpr int first_work_position = 3;
inline constexpr int work_positions = 7;
inline constexpr int all_positions = first_work_position + work_positions;

enum class Background { none, some, compressor_all_along, song_all_along };
enum class Repeats { none, song_twice, phrase_twice };

struct ShopPlan {
  double length_s = 600;
  Background background = Background::some;
  Repeats repeats = Repeats::none;
  double longest_silence_s = 60;
  bool work = true;      ///< false: nothing but background
  bool riveting = true;  ///< false: all other work goes on
  int signals = 0;       ///< three claps, each with some quiet around
  double break_s = 0;    ///< a stretch in the middle in which nobody works
  /// Numbers of the machines and songs, so that two days can share them; 0 draws new ones.
  std::uint64_t compressor = 0;
  std::uint64_t song = 0;
};

/// Sorted by begin.
std::vector<SoundEvent> make_schedule(const ShopPlan& plan, std::uint64_t number);

/// Seconds of [from, to) in which a foreground sound begins: how eventful a stretch is.
int eventful_seconds(const std::vector<SoundEvent>& events, double from_s, double to_s);

}  // namespace jigtime::bench
