#include "bench/shop_sounds.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "bench/random.h"

namespace jigtime::bench {
namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;

std::int64_t samples(double seconds) { return std::llround(seconds * rate_hz); }

struct Mode {
  double frequency_hz = 0;
  double decay_s = 0;
  double gain = 0;
};
using Modes = std::vector<Mode>;

Modes make_modes(Random& random, int count, std::pair<double, double> hz, std::pair<double, double> decay_s) {
  Modes modes;
  for (int i = 0; i < count; ++i) {
    modes.push_back({random.log_uniform(hz.first, hz.second), random.log_uniform(decay_s.first, decay_s.second),
                     random.uniform(0.3, 1.0)});
  }
  return modes;
}

/// A struck body rings in damped sinusoids.
void add_ringing(const Modes& modes, double gain, std::vector<float>& out, std::int64_t at) {
  const auto size = static_cast<std::int64_t>(out.size());
  for (const Mode& mode : modes) {
    const double shrink = std::exp(-1.0 / (mode.decay_s * rate_hz));
    const double turn = two_pi * mode.frequency_hz / rate_hz;
    const double real_step = shrink * std::cos(turn);
    const double imaginary_step = shrink * std::sin(turn);
    double real = gain * mode.gain;
    double imaginary = 0;
    const std::int64_t end = std::min(size, at + samples(7 * mode.decay_s));
    for (std::int64_t n = std::max<std::int64_t>(at, 0); n < end; ++n) {
      out[static_cast<std::size_t>(n)] += static_cast<float>(imaginary);
      const double next = real * real_step - imaginary * imaginary_step;
      imaginary = real * imaginary_step + imaginary * real_step;
      real = next;
    }
  }
}

/// Ringing with a short click of noise at its head.
void add_impact(const Modes& modes, double gain, Random& random, std::vector<float>& out, std::int64_t at) {
  add_ringing(modes, gain, out, at);
  const auto size = static_cast<std::int64_t>(out.size());
  const std::int64_t click_end = std::min(size, at + samples(0.0015));
  for (std::int64_t n = std::max<std::int64_t>(at, 0); n < click_end; ++n) {
    out[static_cast<std::size_t>(n)] += static_cast<float>(gain * random.normal());
  }
}

void render_rivet_burst(Random& random, std::vector<float>& out) {
  const Modes modes = make_modes(random, 6, {500, 6500}, {0.002, 0.012});
  const double full_rate_hz = random.chance(0.2) ? random.uniform(15, 24) : random.uniform(24, 45);
  const double rise_s = random.uniform(0.02, 0.25);
  const double slow = random.uniform(0.5, 0.9);
  const bool bar_bounces = random.chance(0.5);
  double t = 0.005;
  const double end = static_cast<double>(out.size()) / rate_hz - 0.03;
  while (t < end) {
    const double gain = random.uniform(0.7, 1.3);
    add_impact(modes, gain, random, out, samples(t));
    if (bar_bounces) add_impact(modes, 0.3 * gain, random, out, samples(t + random.uniform(0.003, 0.006)));
    const double rate = full_rate_hz * (1 - (1 - slow) * std::exp(-t / rise_s));
    t += (1 + 0.03 * random.normal()) / rate;
  }
}

void render_clatter(Random& random, std::vector<float>& out) {
  const Modes modes = make_modes(random, 7, {200, 6000}, {0.008, 0.1});
  double t = 0.005;
  double gain = 1;
  for (int left = 1 + random.below(4); left > 0; --left) {
    add_impact(modes, gain, random, out, samples(t));
    t += random.log_uniform(0.03, 0.3);
    gain *= random.uniform(0.3, 0.9);
  }
}

void render_hand_hammer(Random& random, std::vector<float>& out) {
  const Modes modes = make_modes(random, 7, {200, 5000}, {0.005, 0.05});
  const double rate = random.uniform(2, 4);
  for (double t = 0.01; samples(t) < std::ssize(out); t += (1 + 0.1 * random.normal()) / rate) {
    add_impact(modes, random.uniform(0.6, 1.2), random, out, samples(t));
  }
}

void render_three_claps(Random& random, std::vector<float>& out) {
  const Modes modes = make_modes(random, 4, {700, 2500}, {0.002, 0.006});
  const double gap = random.uniform(0.3, 0.65);
  for (int i = 0; i < 3; ++i) {
    const double t = 0.01 + i * gap + (i == 0 ? 0.0 : 0.02 * random.normal());
    add_impact(modes, random.uniform(0.8, 1.2), random, out, samples(t));
  }
}

void render_drill(Random& random, std::vector<float>& out) {
  const double full_hz = random.uniform(250, 900);
  const std::uint64_t rush = random.bits();
  double phase = 0;
  for (std::size_t n = 0; n < out.size(); ++n) {
    const double t = static_cast<double>(n) / rate_hz;
    const double left = static_cast<double>(out.size() - n) / rate_hz;
    const double speed = std::min({1.0, t / 0.3, left / 0.2}) * (1 - 0.1 * std::sin(t * 2.1));
    phase += two_pi * full_hz * speed / rate_hz;
    const double tone = std::sin(phase) + 0.6 * std::sin(2 * phase + 1) + 0.4 * std::sin(5 * phase + 2);
    out[n] += static_cast<float>(speed * (tone + 0.7 * noise_at(rush, static_cast<std::int64_t>(n))));
  }
}

/// Two-pole resonator: a formant.
struct Formant {
  double a1 = 0, a2 = 0, gain = 0, y1 = 0, y2 = 0;
  Formant(double hz, double width_hz) {
    const double radius = std::exp(-std::numbers::pi * width_hz / rate_hz);
    a1 = 2 * radius * std::cos(two_pi * hz / rate_hz);
    a2 = -radius * radius;
    gain = 1 - radius;
  }
  double step(double x) {
    const double y = gain * x + a1 * y1 + a2 * y2;
    y2 = y1;
    y1 = y;
    return y;
  }
};

void add_syllable(Random& random, double pitch_hz, std::span<float> out) {
  std::array<Formant, 3> formants{Formant{random.uniform(280, 800), 80}, Formant{random.uniform(900, 2300), 120},
                                  Formant{random.uniform(2400, 3300), 200}};
  const double glide = random.uniform(-0.2, 0.2);
  const bool hisses = random.chance(0.4);
  const std::size_t hiss_end = hisses ? out.size() / 3 : 0;
  double phase = 0;
  for (std::size_t n = 0; n < out.size(); ++n) {
    const double part = static_cast<double>(n) / static_cast<double>(out.size());
    phase += pitch_hz * (1 + glide * part) / rate_hz;
    double drive = 0.05 * random.normal();
    if (phase >= 1) {
      phase -= 1;
      drive += 8;
    }
    double y = 0;
    for (Formant& formant : formants) y += formant.step(drive);
    if (n < hiss_end) y = 0.15 * random.normal();
    out[n] += static_cast<float>(y * std::sin(std::numbers::pi * part));
  }
}

void render_phrase(Random& random, std::vector<float>& out) {
  const double pitch_hz = random.uniform(90, 230);
  double t = 0;
  while (true) {
    const double length_s = random.uniform(0.09, 0.3);
    const std::int64_t first = samples(t);
    const std::int64_t count = samples(length_s);
    if (first + count >= std::ssize(out)) break;
    add_syllable(random, pitch_hz * random.uniform(0.85, 1.2),
                 std::span{out}.subspan(static_cast<std::size_t>(first), static_cast<std::size_t>(count)));
    t += length_s + (random.chance(0.15) ? random.uniform(0.1, 0.4) : random.uniform(0.0, 0.05));
  }
}

void add_note(std::vector<float>& out, std::int64_t at, double hz, double gain, double decay_s) {
  Modes modes;
  for (int k = 1; k <= 5 && hz * k < 7000; ++k) modes.push_back({hz * k, decay_s / k, gain / k});
  add_ringing(modes, 1, out, at);
}

void render_song(Random& random, std::vector<float>& out) {
  const double beat_s = 60 / random.uniform(85, 140);
  const double root_hz = random.uniform(80, 160);
  constexpr std::array<int, 7> scale{0, 2, 4, 5, 7, 9, 11};
  std::array<int, 8> chords{};
  for (int& chord : chords) chord = random.below(7);
  const auto note_hz = [&](int degree) {
    return root_hz * std::exp2(degree / 7 + scale[static_cast<std::size_t>(degree % 7)] / 12.0);
  };
  const Modes snare = make_modes(random, 4, {180, 3000}, {0.01, 0.05});
  for (int half_beat = 0; samples(half_beat * beat_s / 2) < std::ssize(out); ++half_beat) {
    const std::int64_t at = samples(half_beat * beat_s / 2);
    const int chord = chords[static_cast<std::size_t>(half_beat / 8 % 8)];
    if (half_beat % 2 == 0) add_note(out, at, note_hz(chord), 0.7, 0.5);
    if (half_beat % 4 == 0) {
      for (const int third : {7, 9, 11}) add_note(out, at, note_hz(chord + third), 0.3, 0.8);
    }
    if (half_beat % 4 == 2) add_impact(snare, 0.6, random, out, at);
    if (random.chance(0.4)) add_note(out, at, note_hz(14 + random.below(8)), 0.5, 0.3);
  }
}

void bring_to_unit_power(std::vector<float>& wave) {
  double power = 0;
  for (const float x : wave) power += static_cast<double>(x) * x;
  if (wave.empty() || power <= 0) return;
  const auto gain = static_cast<float>(1 / std::sqrt(power / static_cast<double>(wave.size())));
  for (float& x : wave) x *= gain;
}

class BufferVoice : public Voice {
 public:
  BufferVoice(std::vector<float> wave, float level) : wave_{std::move(wave)}, level_{level} {}
  void add_to(std::int64_t first, std::span<float> out) const override {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const std::int64_t n = first + static_cast<std::int64_t>(i);
      if (n >= 0 && n < std::ssize(wave_)) out[i] += level_ * wave_[static_cast<std::size_t>(n)];
    }
  }

 private:
  std::vector<float> wave_;
  float level_;
};

/// Strokes of one machine: its number gives waveform and speed, the begin of the run the noise and the wander.
class CompressorVoice : public Voice {
 public:
  explicit CompressorVoice(const SoundEvent& event) : length_{event.length} {
    Random random{event.number};
    stroke_hz_ = random.uniform(12, 30);
    template_.assign(rate_hz / 10, 0.0F);
    add_impact(make_modes(random, 8, {80, 3500}, {0.004, 0.02}), 1, random, template_, 0);
    bring_to_unit_power(template_);
    level_ = event.level / std::sqrt(1 + noise_part * noise_part);
    Random run{event.number ^ mix(static_cast<std::uint64_t>(event.begin))};
    noise_ = run.bits();
    for (Wander& one : wander_) {
      const double seconds = run.log_uniform(1, 60);
      one = {two_pi / seconds, run.uniform(0, two_pi), run.uniform(0.001, 0.004) * seconds / two_pi};
    }
  }
  void add_to(std::int64_t first, std::span<float> out) const override {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const std::int64_t n = first + static_cast<std::int64_t>(i);
      if (n < 0 || n >= length_) continue;
      const double strokes = strokes_at(static_cast<double>(n) / rate_hz);
      const double in_stroke_s = (strokes - std::floor(strokes)) / stroke_hz_;
      const auto place = std::min(template_.size() - 1, static_cast<std::size_t>(in_stroke_s * rate_hz));
      const float rush = noise_part * noise_at(noise_, n);
      out[i] += level_ * (template_[place] + rush);
    }
  }

 private:
  /// One wave of the speed's slow wander: amounts to a few thousandths of the speed.
  struct Wander {
    double turn_per_s = 0;
    double phase = 0;
    double gained_s = 0;
  };

  /// Slower by up to 1 % as the tank fills, and never twice alike: load and mains wander.
  double strokes_at(double t) const {
    double at = t - 0.01 * (t - 60 * (1 - std::exp(-t / 60)));
    for (const Wander& one : wander_) at += one.gained_s * std::sin(one.turn_per_s * t + one.phase);
    return stroke_hz_ * (at + 10);
  }

  static constexpr float noise_part = 0.4F;
  std::int64_t length_;
  double stroke_hz_ = 0;
  std::array<Wander, 4> wander_{};
  std::uint64_t noise_ = 0;
  std::vector<float> template_;
  float level_ = 0;
};

class FanVoice : public Voice {
 public:
  explicit FanVoice(const SoundEvent& event) : length_{event.length}, level_{event.level} {
    Random random{event.number};
    blade_hz_ = random.uniform(70, 220);
    noise_ = random.bits() ^ static_cast<std::uint64_t>(event.begin);
  }
  void add_to(std::int64_t first, std::span<float> out) const override {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const std::int64_t n = first + static_cast<std::int64_t>(i);
      if (n < 0 || n >= length_) continue;
      const double phase = two_pi * blade_hz_ * static_cast<double>(n) / rate_hz;
      const double tone = 0.5 * std::sin(phase) + 0.3 * std::sin(2 * phase + 1);
      const float rush = 0.5F * (noise_at(noise_, n) + noise_at(noise_, n - 1) + noise_at(noise_, n - 2));
      out[i] += level_ * (static_cast<float>(tone) + rush);
    }
  }

 private:
  std::int64_t length_;
  float level_;
  double blade_hz_ = 0;
  std::uint64_t noise_ = 0;
};

class NoiseVoice : public Voice {
 public:
  explicit NoiseVoice(const SoundEvent& event) : number_{event.number}, length_{event.length}, level_{event.level} {}
  void add_to(std::int64_t first, std::span<float> out) const override {
    for (std::size_t i = 0; i < out.size(); ++i) {
      const std::int64_t n = first + static_cast<std::int64_t>(i);
      if (n >= 0 && n < length_) out[i] += level_ * noise_at(number_, n);
    }
  }

 private:
  std::uint64_t number_;
  std::int64_t length_;
  float level_;
};

std::vector<float> render(const SoundEvent& event) {
  Random random{event.number};
  std::vector<float> wave(static_cast<std::size_t>(event.length), 0.0F);
  switch (event.kind) {
    case SoundKind::rivet_burst: render_rivet_burst(random, wave); break;
    case SoundKind::clatter: render_clatter(random, wave); break;
    case SoundKind::hand_hammer: render_hand_hammer(random, wave); break;
    case SoundKind::drill: render_drill(random, wave); break;
    case SoundKind::phrase: render_phrase(random, wave); break;
    case SoundKind::song: render_song(random, wave); break;
    case SoundKind::three_claps: render_three_claps(random, wave); break;
    case SoundKind::compressor:
    case SoundKind::fan:
    case SoundKind::white_noise: break;
  }
  bring_to_unit_power(wave);
  return wave;
}

}  // namespace

bool is_foreground(SoundKind kind) {
  return kind != SoundKind::compressor && kind != SoundKind::fan && kind != SoundKind::song;
}

std::int64_t natural_length(SoundKind kind, std::uint64_t number) {
  Random random{mix(number) ^ 0x1E4};
  switch (kind) {
    case SoundKind::rivet_burst: return samples(random.uniform(0.3, 1.5));
    case SoundKind::clatter: return samples(1.0);
    case SoundKind::hand_hammer: return samples(random.uniform(1, 6));
    case SoundKind::drill: return samples(random.uniform(1, 6));
    case SoundKind::phrase: return samples(random.uniform(0.8, 4));
    case SoundKind::song: return samples(random.uniform(60, 150));
    case SoundKind::compressor: return samples(random.uniform(40, 150));
    case SoundKind::three_claps: return samples(1.6);
    case SoundKind::fan:
    case SoundKind::white_noise: break;
  }
  return samples(60);
}

std::unique_ptr<Voice> make_voice(const SoundEvent& event) {
  switch (event.kind) {
    case SoundKind::compressor: return std::make_unique<CompressorVoice>(event);
    case SoundKind::fan: return std::make_unique<FanVoice>(event);
    case SoundKind::white_noise: return std::make_unique<NoiseVoice>(event);
    default: return std::make_unique<BufferVoice>(render(event), event.level);
  }
}

}  // namespace jigtime::bench
