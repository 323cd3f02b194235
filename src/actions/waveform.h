// How loud a clip is, moment by moment, for drawing.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::actions {

inline constexpr int waveform_rate_hz = 20;

/// Each byte is the loudest sample of its stretch, 255 at full scale, on a scale of decibels (0 at -60 dB).
struct Waveform {
  ClipTime origin;  ///< begin of the first stretch
  std::vector<std::uint8_t> peaks;
};

/// From the sound that the line-up keeps in the cache: reads it once, decodes nothing. Nothing where it is not kept.
/// Blocks for the read: about 0.1 s for an hour.
std::optional<Waveform> kept_waveform(const journal::Clip& clip);

}  // namespace jigtime::actions
