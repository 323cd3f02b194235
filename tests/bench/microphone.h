// What a camera does to the sound it hears: noise, wind, gain, clipping, band limit, muting.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace jigtime::bench {

struct Microphone {
  std::optional<double> snr_db;   ///< none: no noise. Against the mean power of the moments with foreground sound
  bool white_noise_only = false;  ///< else half of the noise's power is dull
  bool automatic_gain = false;
  double clip_at = 1.0;  ///< full scale 1; the loudest moments are brought to `loudest`
  double loudest = 0.5;
  double wind_bursts_per_minute = 0;
  double knocks_per_minute = 0;  ///< of hands and clothes on this camera: no other one hears them
  int recorded_at_hz = 48000;    ///< 8000 and 11025 cut the band
  bool inverted = false;
};

/// Applies all of it in place. `active_power` is the mean power of the foreground in `samples`.
void record(const Microphone& microphone, double active_power, std::uint64_t number, std::vector<float>& samples);

/// Sixteen bits, as files hold it.
std::vector<std::int16_t> to_16_bit(const std::vector<float>& samples);

}  // namespace jigtime::bench
