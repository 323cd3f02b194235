// The sound of one event as it leaves its place, before distance, room and microphone.
#pragma once

#include <vector>

#include "demo/story.h"

namespace jigtime::demo {

inline constexpr int wave_rate_hz = 48'000;
/// Nothing is left above this: microphones of lower rates then need no further filter.
inline constexpr double wave_band_hz = 11'000;

/// Samples at wave_rate_hz from the event's begin on, as heard at one metre; (length + ring_out) long.
std::vector<float> waveform(const SoundEvent& event);

}  // namespace jigtime::demo
