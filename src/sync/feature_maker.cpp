#include <algorithm>
#include <cmath>
#include <numbers>

#include "signal/fft.h"
#include "sync/features.h"

namespace jigtime::sync {

namespace {

constexpr int window_samples = 512;                 // 32 ms
constexpr int hop_samples = samples_per_frame / 2;  // two hops pool into one frame
constexpr double low_hz = 200;
constexpr double high_hz = 7000;
constexpr int floor_hops = 500;     // the floor is the quietest of the last 5 to 10 seconds
constexpr float smoothing = 0.06f;  // of the power the floor is taken from: about 0.15 s
constexpr float floor_factor = 3;
/// Power of sound some 100 dB below full scale in one bin: below it nothing counts.
constexpr float silence = 1e-8f;

using Bands = std::array<float, feature_bands>;

std::array<int, feature_bands + 1> band_edges() {
  std::array<int, feature_bands + 1> edges{};
  for (int band = 0; band <= feature_bands; ++band) {
    const double hz = low_hz * std::pow(high_hz / low_hz, static_cast<double>(band) / feature_bands);
    edges[static_cast<std::size_t>(band)] = static_cast<int>(std::lround(hz * window_samples / sample_rate_hz));
  }
  for (std::size_t i = 1; i < edges.size(); ++i) edges[i] = std::max(edges[i], edges[i - 1] + 1);
  return edges;
}

}  // namespace

struct FeatureMaker::Impl {
  explicit Impl(ClipTime start) : origin{start}, window(window_samples) {
    for (int i = 0; i < window_samples; ++i) {
      window[static_cast<std::size_t>(i)] =
          static_cast<float>(0.5 - 0.5 * std::cos(2 * std::numbers::pi * (i + 0.5) / window_samples));
    }
    lowest.fill(INFINITY);
    lowest_before.fill(INFINITY);
  }

  void hop() {
    for (std::size_t i = 0; i < window.size(); ++i) shaped[i] = held[i] * window[i];
    fft.forward(shaped, spectrum);
    std::copy(held.begin() + hop_samples, held.end(), held.begin());
    filled -= hop_samples;
    for (int band = 0; band < feature_bands; ++band) {
      const auto b = static_cast<std::size_t>(band);
      float power = 0;
      for (int k = edges[b]; k < edges[b + 1]; ++k) power += std::norm(spectrum[static_cast<std::size_t>(k)]);
      rise(b, power / static_cast<float>(edges[b + 1] - edges[b]));
    }
    if (++hops % floor_hops == 0) {
      lowest_before = lowest;
      lowest.fill(INFINITY);
    }
    if (hops % 2 == 0) keep_frame();
  }

  void rise(std::size_t band, float power) {
    smooth[band] = hops == 0 ? power : smooth[band] + smoothing * (power - smooth[band]);
    lowest[band] = std::min(lowest[band], smooth[band]);
    const float quietest = std::min(lowest[band], lowest_before[band]);
    const float level = std::log(power + floor_factor * quietest + silence);
    if (hops > 0) pooled[band] += std::max(0.0f, level - last[band]);
    last[band] = level;
  }

  void keep_frame() {
    for (float& value : pooled) {
      bytes.push_back(static_cast<std::uint8_t>(std::clamp(value * feature_steps_per_nat + 0.5f, 0.0f, 255.0f)));
      value = 0;
    }
  }

  ClipTime origin;
  std::vector<float> window;
  signal::RealFft fft{window_samples};
  signal::Samples held = signal::Samples(window_samples);
  signal::Samples shaped = signal::Samples(window_samples);
  signal::Spectrum spectrum;
  std::array<int, feature_bands + 1> edges = band_edges();
  int filled = 0;
  std::int64_t hops = 0;
  Bands smooth{}, lowest{}, lowest_before{}, last{}, pooled{};
  std::vector<std::uint8_t> bytes;
};

FeatureMaker::FeatureMaker(ClipTime origin) : impl_{std::make_unique<Impl>(origin)} {}
FeatureMaker::FeatureMaker(FeatureMaker&&) noexcept = default;
FeatureMaker& FeatureMaker::operator=(FeatureMaker&&) noexcept = default;
FeatureMaker::~FeatureMaker() = default;

void FeatureMaker::add(std::span<const float> samples) {
  constexpr float loudest = 1e4f;
  while (!samples.empty()) {
    const auto room = static_cast<std::size_t>(window_samples - impl_->filled);
    const std::span<const float> now = samples.first(std::min(room, samples.size()));
    float* const to = impl_->held.data() + impl_->filled;
    // Decoders of damaged files produce anything; what is no number, or no sound, is silence.
    for (std::size_t i = 0; i < now.size(); ++i) to[i] = std::abs(now[i]) < loudest ? now[i] : 0.0f;
    impl_->filled += static_cast<int>(now.size());
    if (impl_->filled == window_samples) impl_->hop();
    samples = samples.subspan(now.size());
  }
}

Features FeatureMaker::finish() {
  Features features;
  // A frame pools the rises into two hops; a rise lies between the centres of two windows. The middle of it all:
  // half a window on from the first sample.
  features.origin = impl_->origin + Length{scaled(window_samples / 2, 1'000'000'000, sample_rate_hz)};
  features.frames = static_cast<int>(impl_->bytes.size() / feature_bands);
  features.bytes = std::move(impl_->bytes);
  impl_ = std::make_unique<Impl>(features.origin);
  return features;
}

}  // namespace jigtime::sync
