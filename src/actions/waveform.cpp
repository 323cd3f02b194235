#include "actions/waveform.h"

#include <algorithm>
#include <cmath>

#include "actions/listen.h"

namespace jigtime::actions {
namespace {

constexpr int samples_per_peak = sync::sample_rate_hz / waveform_rate_hz;
constexpr float floor_db = 60;

std::uint8_t loudness(std::span<const float> samples) {
  float most = 0;
  for (const float sample : samples) most = std::max(most, std::abs(sample));
  if (most <= 0) return 0;
  const float db = 20 * std::log10(most) + floor_db;
  return static_cast<std::uint8_t>(std::clamp(db / floor_db * 255, 0.0F, 255.0F));
}

}  // namespace

std::optional<Waveform> kept_waveform(const journal::Clip& clip) {
  const auto heard = kept_sound(clip);
  if (!heard) return std::nullopt;
  Waveform waveform{heard->sound->origin(), {}};
  std::vector<float> chunk(static_cast<std::size_t>(samples_per_peak) * 256);
  const std::int64_t count = heard->sound->count();
  waveform.peaks.reserve(static_cast<std::size_t>(count / samples_per_peak + 1));
  for (std::int64_t at = 0; at < count; at += std::ssize(chunk)) {
    if (!heard->sound->read(at, chunk)) return std::nullopt;
    const auto there = static_cast<std::size_t>(std::min<std::int64_t>(count - at, std::ssize(chunk)));
    for (std::size_t i = 0; i < there; i += samples_per_peak) {
      waveform.peaks.push_back(
          loudness(std::span{chunk}.subspan(i, std::min<std::size_t>(samples_per_peak, there - i))));
    }
  }
  return waveform;
}

}  // namespace jigtime::actions
