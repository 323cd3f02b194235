#include "demo/microphone.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <numbers>

#include "demo/filter.h"
#include "demo/room.h"
#include "demo/waveform.h"

namespace jigtime::demo {
namespace {

constexpr std::size_t taps = 8;
constexpr std::size_t phases = 512;
constexpr double reverberation_s = 0.32;

/// A windowed sine for each of 512 places between two samples. The band ends at 11 kHz, far below half of 48 kHz, so
/// that eight taps are enough.
using Kernel = std::array<std::array<float, taps>, phases>;

Kernel make_kernel() {
  constexpr double pi = std::numbers::pi;
  Kernel kernel;
  for (std::size_t phase = 0; phase < phases; ++phase) {
    double sum = 0;
    std::array<double, taps> weight;
    for (std::size_t tap = 0; tap < taps; ++tap) {
      const double x = static_cast<double>(tap) - (taps / 2.0 - 1) - static_cast<double>(phase) / phases;
      const double sine = std::abs(x) < 1e-9 ? 1 : std::sin(pi * x) / (pi * x);
      weight[tap] = sine * std::pow(std::cos(pi * x / (taps + 1.0)), 2);
      sum += weight[tap];
    }
    for (std::size_t tap = 0; tap < taps; ++tap) kernel[phase][tap] = static_cast<float>(weight[tap] / sum);
  }
  return kernel;
}

const Kernel& kernel() {
  static const Kernel made = make_kernel();
  return made;
}

/// A waveform on its way: sample 0 of `wave` arrives at `arrives`. The wave has `taps` zeros at both ends.
struct Arrival {
  Seconds arrives = 0;
  Seconds gone = 0;
  std::vector<float> wave;
};

Arrival send(const SoundEvent& event, const CameraPlan& camera) {
  Arrival arrival;
  const std::vector<float> wave = waveform(event);
  arrival.wave.assign(wave.size() + 2 * taps, 0.0F);
  const auto gain = static_cast<float>(1 / std::max(0.5, distance(event.at, camera.at)));
  std::ranges::transform(wave, arrival.wave.begin() + taps, [&](float sample) { return gain * sample; });
  arrival.arrives = event.begin + sound_path(camera, event.at) - static_cast<double>(taps) / wave_rate_hz;
  arrival.gone = arrival.arrives + static_cast<double>(arrival.wave.size()) / wave_rate_hz;
  return arrival;
}

void add(const Arrival& arrival, Seconds first, Seconds step, std::span<float> out) {
  const double advance = step * wave_rate_hz;
  const double start = (first - arrival.arrives) * wave_rate_hz - (taps / 2.0 - 1);
  const double limit = static_cast<double>(arrival.wave.size() - taps);
  const auto begin = static_cast<std::size_t>(std::max(0.0, std::ceil(-start / advance)));
  const Kernel& table = kernel();
  for (std::size_t i = begin; i < out.size(); ++i) {
    const double position = start + advance * static_cast<double>(i);
    if (position >= limit) break;
    const auto whole = static_cast<std::size_t>(position);
    const auto phase = static_cast<std::size_t>((position - static_cast<double>(whole)) * phases);
    const float* const samples = &arrival.wave[whole];
    const auto& weights = table[phase];
    float sum = 0;
    for (std::size_t tap = 0; tap < taps; ++tap) sum += weights[tap] * samples[tap];
    out[i] += sum;
  }
}

}  // namespace

Seconds sound_path(const CameraPlan& camera, Point from) { return distance(camera.at, from) / speed_of_sound; }

struct Microphone::Impl {
  const CameraPlan& camera;
  const Story& story;
  Room room;
  Filter rumble;
  Filter low_pass;
  Filter low_pass_again;
  Dice dice;
  std::size_t next_event = 0;
  std::deque<Arrival> arrivals;

  void collect(Seconds from, Seconds to);
  float electronics(float in);
};

Microphone::Microphone(const CameraPlan& camera, const Story& story, std::uint64_t seed)
    : impl_{new Impl{camera,
                     story,
                     Room{static_cast<std::uint64_t>(camera.at.x * 1000) + 77,
                          static_cast<double>(camera.sample_rate_hz), reverberation_s},
                     Filter::high_pass(70, camera.sample_rate_hz),
                     Filter::low_pass(camera.microphone.low_pass_hz, camera.sample_rate_hz, 0.5412),
                     Filter::low_pass(camera.microphone.low_pass_hz, camera.sample_rate_hz, 1.3066),
                     Dice{seed},
                     0,
                     {}}} {}
Microphone::Microphone(Microphone&&) noexcept = default;
Microphone& Microphone::operator=(Microphone&&) noexcept = default;
Microphone::~Microphone() = default;

void Microphone::Impl::collect(Seconds from, Seconds to) {
  std::erase_if(arrivals, [&](const Arrival& arrival) { return arrival.gone < from; });
  for (; next_event < story.sounds.size() && story.sounds[next_event].begin < to; ++next_event) {
    const SoundEvent& event = story.sounds[next_event];
    const Seconds gone = event.begin + event.length + ring_out + sound_path(camera, event.at);
    if (gone >= from) arrivals.push_back(send(event, camera));
  }
}

float Microphone::Impl::electronics(float in) {
  const auto wet = static_cast<float>(camera.microphone.reverberation);
  const float heard = in + wet * room.echo(in) + static_cast<float>(camera.microphone.noise) * dice.noise();
  const auto amplified = static_cast<float>(camera.microphone.gain) * low_pass_again(low_pass(rumble(heard)));
  return amplified / (1 + 0.35F * std::abs(amplified));  // loud blows are rounded off
}

void Microphone::hear(Seconds first, Seconds step, std::span<float> out) {
  std::ranges::fill(out, 0.0F);
  const Seconds last = first + step * static_cast<double>(out.size());
  impl_->collect(first, last);
  for (const Arrival& arrival : impl_->arrivals) add(arrival, first, step, out);
  for (float& sample : out) sample = impl_->electronics(sample);
}

}  // namespace jigtime::demo
