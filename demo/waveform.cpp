#include "demo/waveform.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <numbers>

#include "demo/filter.h"
#include "demo/voice.h"

namespace jigtime::demo {
namespace {

constexpr double rate = wave_rate_hz;
constexpr double turn = 2 * std::numbers::pi;

/// One way in which a struck thing rings.
struct Mode {
  double hz;
  double decay_s;
  double share;
};

std::size_t index_of(Seconds t) { return static_cast<std::size_t>(std::max(0.0, t) * rate); }

/// Adds a ringing thing that is struck at `when`; every strike sounds a little different.
void strike(std::vector<float>& wave, Seconds when, std::initializer_list<Mode> modes, double gain, Dice& dice) {
  const std::size_t first = index_of(when);
  for (const Mode& mode : modes) {
    const double level = gain * mode.share * dice.between(0.7, 1.3);
    const double step = turn * mode.hz * dice.between(0.985, 1.015) / rate;
    const double fade = std::exp(-1 / (mode.decay_s * rate));
    const std::size_t last = std::min(wave.size(), first + index_of(6 * mode.decay_s));
    // A decaying sine by recursion: y[n] = 2 r cos(w) y[n-1] - r^2 y[n-2].
    const double twice = 2 * fade * std::cos(step);
    const double square = fade * fade;
    double before = 0;
    double now = level * std::sin(step) * fade;
    for (std::size_t i = first; i < last; ++i) {
      wave[i] += static_cast<float>(now);
      const double next = twice * now - square * before;
      before = now;
      now = next;
    }
  }
}

/// Adds a crack of noise that dies away.
void crack(std::vector<float>& wave, Seconds when, Seconds decay, double gain, Dice& dice) {
  const std::size_t first = index_of(when);
  const std::size_t last = std::min(wave.size(), first + index_of(6 * decay));
  const double fade = std::exp(-1 / (decay * rate));
  for (std::size_t i = first; i < last; ++i, gain *= fade) wave[i] += static_cast<float>(gain) * dice.noise();
}

/// Rises and falls within `edge` at both ends of [0, length).
double swell(Seconds t, Seconds length, Seconds edge) {
  const double rise = std::clamp(std::min(t, length - t) / edge, 0.0, 1.0);
  return rise * rise * (3 - 2 * rise);
}

void add_blows(std::vector<float>& wave, const SoundEvent& event, Dice& dice) {
  const double skin = dice.between(0.92, 1.08);  // every place of the skin rings at its own pitch
  for (const float blow : event.blows) {
    const double gain = dice.between(0.75, 1.0);
    const Seconds t = static_cast<double>(blow);
    strike(wave, t,
           {{410 * skin, 0.022, 0.30},
            {930 * skin, 0.016, 0.30},
            {1'760 * skin, 0.012, 0.24},
            {2'980 * skin, 0.009, 0.18},
            {4'700 * skin, 0.006, 0.14}},
           gain, dice);
    crack(wave, t, 0.0012, 0.5 * gain, dice);
  }
  Filter air = Filter::band_pass(5'200, rate, 0.8);
  const std::size_t end = std::min(wave.size(), index_of(event.length));
  for (std::size_t i = 0; i < end; ++i) {
    const Seconds t = static_cast<double>(i) / rate;
    wave[i] += static_cast<float>(0.09 * swell(t, event.length, 0.03)) * air(dice.noise());
  }
}

void add_tin(std::vector<float>& wave, const SoundEvent& event, Dice& dice) {
  const int bits = dice.whole(5, 13);
  for (int i = 0; i < bits; ++i) {
    const double k = dice.between(0.8, 1.25);
    const Seconds t = dice.between(0, event.length);
    strike(wave, t, {{1'900 * k, 0.03, 0.3}, {3'600 * k, 0.045, 0.4}, {5'700 * k, 0.03, 0.3}, {8'200 * k, 0.015, 0.2}},
           dice.between(0.25, 1.0), dice);
  }
}

void add_drill(std::vector<float>& wave, const SoundEvent& event, Dice& dice) {
  Filter air = Filter::band_pass(3'400, rate, 0.6);
  const double full_speed = dice.between(370, 420);
  const double load_hz = dice.between(5, 8);
  double phase = 0;
  for (std::size_t i = 0; i < std::min(wave.size(), index_of(event.length + 0.15)); ++i) {
    const Seconds t = static_cast<double>(i) / rate;
    const double running = swell(t, event.length + 0.15, 0.15);
    phase += full_speed * (0.35 + 0.65 * running) * (1 + 0.02 * std::sin(turn * load_hz * t)) / rate;
    double tone = 0;
    for (const double harmonic : {1.0, 2.0, 3.0, 5.0, 7.0}) tone += std::sin(turn * harmonic * phase) / harmonic;
    wave[i] += static_cast<float>(running * (0.45 * tone)) + static_cast<float>(0.9 * running) * air(dice.noise());
  }
}

/// Noise of a stroke: `teeth_hz` of 0 leaves it smooth.
void add_stroke(std::vector<float>& wave, const SoundEvent& event, double centre_hz, double teeth_hz, Dice& dice) {
  Filter band = Filter::band_pass(centre_hz * dice.between(0.9, 1.1), rate, 0.7);
  const double depth = teeth_hz > 0 ? 0.7 : 0;
  for (std::size_t i = 0; i < std::min(wave.size(), index_of(event.length)); ++i) {
    const Seconds t = static_cast<double>(i) / rate;
    const double teeth = 1 - depth * (0.5 + 0.5 * std::sin(turn * teeth_hz * t * (1 + 0.3 * t / event.length)));
    wave[i] += static_cast<float>(2.2 * teeth * swell(t, event.length, event.length / 2)) * band(dice.noise());
  }
}

/// A sine by recursion: sin(a + n w) without calling sin for each sample.
class Oscillator {
 public:
  Oscillator(double hz, double start_turns)
      : twice_{2 * std::cos(turn * hz / rate)},
        now_{std::sin(turn * start_turns)},
        before_{std::sin(turn * (start_turns - hz / rate))} {}
  double next() {
    const double out = now_;
    now_ = twice_ * now_ - before_;
    before_ = out;
    return out;
  }

 private:
  double twice_;
  double now_;
  double before_;
};

/// Neighbouring pieces overlap by half: sine windows keep their summed power steady.
void add_hum(std::vector<float>& wave, const SoundEvent& event, double noise_hz, double beat_hz, double depth,
             Dice& dice) {
  Filter first = Filter::low_pass(noise_hz, rate);
  Filter second = Filter::low_pass(noise_hz, rate);
  Oscillator window{0.5 / event.length, 0};
  Oscillator beat{beat_hz, std::fmod(beat_hz * event.begin, 1)};
  for (std::size_t i = 0; i < std::min(wave.size(), index_of(event.length)); ++i) {
    const double level = 4 * window.next() * (1 + depth * beat.next());
    wave[i] += static_cast<float>(level) * second(first(dice.noise()));
  }
}

void add_raw(std::vector<float>& wave, const SoundEvent& event, Dice& dice) {
  switch (event.kind) {
    case SoundKind::blows: return add_blows(wave, event, dice);
    case SoundKind::tap:
      strike(wave, 0, {{150, 0.035, 0.4}, {340, 0.03, 0.4}, {820, 0.02, 0.3}, {2'300, 0.01, 0.2}}, 1, dice);
      return crack(wave, 0, 0.0015, 0.4, dice);
    case SoundKind::tin: return add_tin(wave, event, dice);
    case SoundKind::click:
      strike(wave, 0, {{1'650, 0.008, 0.5}, {4'300, 0.006, 0.5}}, 1, dice);
      return strike(wave, dice.between(0.05, 0.11), {{1'500, 0.008, 0.4}, {3'900, 0.006, 0.4}}, 0.8, dice);
    case SoundKind::drill: return add_drill(wave, event, dice);
    case SoundKind::file: return add_stroke(wave, event, 2'800, 170, dice);
    case SoundKind::brush: return add_stroke(wave, event, 4'200, 0, dice);
    case SoundKind::words: return add_words(wave, event.length, event.pitch, dice);
    case SoundKind::door:
      strike(wave, 0, {{62, 0.09, 0.7}, {115, 0.06, 0.5}, {260, 0.03, 0.3}}, 1, dice);
      return crack(wave, 0.02, 0.01, 0.2, dice);
    case SoundKind::fan: return add_hum(wave, event, 420, 31, 0.25, dice);
    case SoundKind::compressor: return add_hum(wave, event, 700, 24.3, 0.8, dice);
  }
}

}  // namespace

std::vector<float> waveform(const SoundEvent& event) {
  std::vector<float> wave(index_of(event.length + ring_out));
  Dice dice{event.seed};
  add_raw(wave, event, dice);
  Filter first = Filter::low_pass(wave_band_hz, rate, 0.5412);  // with the next one a fourth-order Butterworth
  Filter second = Filter::low_pass(wave_band_hz, rate, 1.3066);
  const auto level = static_cast<float>(event.level);
  for (float& sample : wave) sample = level * second(first(sample));
  return wave;
}

}  // namespace jigtime::demo
