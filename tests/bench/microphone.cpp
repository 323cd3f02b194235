#include "bench/microphone.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "bench/random.h"
#include "bench/shop_sounds.h"

namespace jigtime::bench {
namespace {

/// White and dull: what is left of preamplifiers and of far traffic.
void add_noise(std::vector<float>& samples, double white_power, double dull_power, std::uint64_t number) {
  const auto white = static_cast<float>(std::sqrt(white_power));
  constexpr float pole = 0.95F;
  const auto dull_gain = static_cast<float>(std::sqrt(dull_power * (1 - pole * pole)));
  float dull = 0;
  for (std::size_t n = 0; n < samples.size(); ++n) {
    dull = pole * dull + dull_gain * noise_at(number ^ 0xD011, static_cast<std::int64_t>(n));
    samples[n] += white * noise_at(number, static_cast<std::int64_t>(n)) + dull;
  }
}

void add_wind(std::vector<float>& samples, double per_minute, double rms, Random& random) {
  const double bursts = per_minute * static_cast<double>(samples.size()) / rate_hz / 60;
  for (int left = static_cast<int>(std::ceil(bursts)); left > 0; --left) {
    const auto length = static_cast<std::size_t>(random.uniform(0.4, 5) * rate_hz);
    if (samples.size() <= length) return;
    const auto first = static_cast<std::size_t>(random.uniform() * static_cast<double>(samples.size() - length));
    const double gain = rms * random.log_uniform(1, 8);
    const std::uint64_t number = random.bits();
    double slow = 0;
    double slower = 0;
    for (std::size_t i = 0; i < length; ++i) {
      slow += 0.05 * (noise_at(number, static_cast<std::int64_t>(i)) - slow);
      slower += 0.05 * (slow - slower);
      const double swell = std::sin(std::numbers::pi * static_cast<double>(i) / static_cast<double>(length));
      samples[first + i] += static_cast<float>(gain * 8 * slower * swell);
    }
  }
}

/// Short and dull or bright by what is knocked against.
void add_knocks(std::vector<float>& samples, double per_minute, double rms, Random& random) {
  constexpr std::size_t longest = rate_hz / 5;
  if (samples.size() <= longest) return;
  const double knocks = per_minute * static_cast<double>(samples.size()) / rate_hz / 60;
  for (int left = static_cast<int>(std::ceil(knocks)); left > 0; --left) {
    const auto first = static_cast<std::size_t>(random.uniform() * static_cast<double>(samples.size() - longest));
    const double peak = rms * random.log_uniform(3, 30);
    const double fading = random.log_uniform(0.004, 0.03) * rate_hz;
    const double smooth = random.log_uniform(0.05, 0.6);
    const std::uint64_t number = random.bits();
    double dull = 0;
    for (std::size_t i = 0; i < longest; ++i) {
      dull += smooth * (noise_at(number, static_cast<std::int64_t>(i)) - dull);
      samples[first + i] += static_cast<float>(peak * dull * std::exp(-static_cast<double>(i) / fading));
    }
  }
}

/// Quick to turn down, slow to turn up, as small recorders do.
void ride_gain(std::vector<float>& samples, double loudest) {
  double level = 1e-4;
  for (float& x : samples) {
    const double now = std::abs(static_cast<double>(x));
    level += (now > level ? 2e-3 : 3e-5) * (now - level);
    x = static_cast<float>(x * std::min(0.3 * loudest / (level + 1e-6), 300.0));
  }
}

void cut_band(std::vector<float>& samples, double edge_hz) {
  constexpr int half = 40;
  std::vector<float> kernel(2 * half + 1);
  for (int k = -half; k <= half; ++k) {
    const double x = 2 * edge_hz / rate_hz * k;
    const double sinc = k == 0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
    const double window = 0.5 + 0.5 * std::cos(std::numbers::pi * k / (half + 1));
    kernel[static_cast<std::size_t>(k + half)] = static_cast<float>(2 * edge_hz / rate_hz * sinc * window);
  }
  std::vector<float> padded(samples.size() + 2 * half, 0.0F);
  std::copy(samples.begin(), samples.end(), padded.begin() + half);
  for (std::size_t n = 0; n < samples.size(); ++n) {
    float sum = 0;
    for (std::size_t k = 0; k < kernel.size(); ++k) sum += kernel[k] * padded[n + k];
    samples[n] = sum;
  }
}

/// Level that one frame in a thousand passes.
double loud_level(const std::vector<float>& samples) {
  std::vector<float> peaks;
  for (std::size_t n = 0; n < samples.size(); n += 400) {
    float peak = 0;
    for (std::size_t i = n; i < std::min(samples.size(), n + 400); ++i) peak = std::max(peak, std::abs(samples[i]));
    peaks.push_back(peak);
  }
  if (peaks.empty()) return 0;
  const std::size_t rank = peaks.size() - 1 - peaks.size() / 1000;
  std::nth_element(peaks.begin(), peaks.begin() + static_cast<std::ptrdiff_t>(rank), peaks.end());
  return peaks[rank];
}

}  // namespace

void record(const Microphone& microphone, double active_power, std::uint64_t number, std::vector<float>& samples) {
  Random random{number};
  const double power = active_power > 0 ? active_power : 1e-3;
  if (microphone.snr_db) {
    const double noise = power * std::pow(10, -*microphone.snr_db / 10);
    const double dull = microphone.white_noise_only ? 0 : noise / 2;
    add_noise(samples, noise - dull, dull, random.bits());
  }
  const double loud = loud_level(samples);
  if (microphone.wind_bursts_per_minute > 0) {
    add_wind(samples, microphone.wind_bursts_per_minute, std::sqrt(power), random);
  }
  if (microphone.knocks_per_minute > 0) {
    add_knocks(samples, microphone.knocks_per_minute, std::sqrt(power), random);
  }
  if (microphone.recorded_at_hz < rate_hz) cut_band(samples, 0.45 * microphone.recorded_at_hz);
  if (loud > 0) {
    const auto gain = static_cast<float>((microphone.inverted ? -1 : 1) * microphone.loudest / loud);
    for (float& x : samples) x *= gain;
  }
  if (microphone.automatic_gain) ride_gain(samples, microphone.loudest);
  const auto limit = static_cast<float>(microphone.clip_at);
  for (float& x : samples) x = std::clamp(x, -limit, limit);
}

std::vector<std::int16_t> to_16_bit(const std::vector<float>& samples) {
  std::vector<std::int16_t> out(samples.size());
  for (std::size_t n = 0; n < samples.size(); ++n) {
    out[n] = static_cast<std::int16_t>(std::clamp(std::lround(samples[n] * 32767.0F), -32768L, 32767L));
  }
  return out;
}

}  // namespace jigtime::bench
