#include "demo/voice.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "demo/filter.h"
#include "demo/waveform.h"

namespace jigtime::demo {
namespace {

constexpr double rate = wave_rate_hz;

/// First three formants of five vowels of a grown man in Hz, rounded textbook values (from memory).
constexpr std::array<std::array<double, 3>, 5> vowels{
    {{{730, 1'090, 2'440}}, {{530, 1'840, 2'480}}, {{270, 2'290, 3'010}}, {{570, 840, 2'410}}, {{300, 870, 2'240}}}};

struct Syllable {
  std::size_t begin = 0;
  std::size_t end = 0;
  std::size_t voiced_from = 0;  ///< before it: the consonant
  double pitch_hz = 0;
  double stress = 1;
};

void add_consonant(std::vector<float>& wave, const Syllable& syllable, Dice& dice) {
  Filter hiss = Filter::band_pass(dice.between(2'500, 6'500), rate, 1.2);
  const auto length = static_cast<double>(syllable.voiced_from - syllable.begin);
  for (std::size_t i = syllable.begin; i < syllable.voiced_from; ++i) {
    const double share = static_cast<double>(i - syllable.begin) / length;
    wave[i] += static_cast<float>(0.6 * syllable.stress * share * (1 - share) * 4) * hiss(dice.noise());
  }
}

void add_vowel(std::vector<float>& wave, const Syllable& syllable, double tract, Dice& dice) {
  const auto& formants = vowels[static_cast<std::size_t>(dice.whole(0, 4))];
  std::array<Filter, 3> throat{Filter::band_pass(formants[0] * tract, rate, 7),
                               Filter::band_pass(formants[1] * tract, rate, 10),
                               Filter::band_pass(formants[2] * tract, rate, 14)};
  const auto length = static_cast<double>(syllable.end - syllable.voiced_from);
  double phase = 0;
  for (std::size_t i = syllable.voiced_from; i < syllable.end; ++i) {
    const double share = static_cast<double>(i - syllable.voiced_from) / length;
    phase += syllable.pitch_hz * (1.06 - 0.12 * share) * (1 + 0.01 * static_cast<double>(dice.noise())) / rate;
    // One pulse each period: sharp closing of the glottis, falling spectrum between.
    const double period = phase - std::floor(phase);
    const auto pulse = static_cast<float>(std::exp(-9 * period) - 0.11);
    const float voice = 1.4F * throat[0](pulse) + 0.9F * throat[1](pulse) + 0.5F * throat[2](pulse);
    wave[i] += static_cast<float>(2.2 * syllable.stress * std::pow(std::sin(3.14159 * share), 0.6)) * voice;
  }
}

}  // namespace

void add_words(std::vector<float>& wave, Seconds length, double pitch, Dice& dice) {
  const double tract = 0.85 + 0.3 * pitch;  // a shorter throat has higher formants
  for (Seconds t = 0; t < length - 0.12;) {
    const Seconds syllable_length = std::min(dice.between(0.13, 0.27), length - t);
    Syllable syllable;
    syllable.begin = static_cast<std::size_t>(t * rate);
    syllable.end = std::min(wave.size(), static_cast<std::size_t>((t + syllable_length) * rate));
    syllable.voiced_from =
        std::min(syllable.end, syllable.begin + static_cast<std::size_t>(dice.between(0.02, 0.07) * rate));
    syllable.pitch_hz = 205 * pitch * dice.between(0.9, 1.15) * (1.08 - 0.16 * t / length);
    syllable.stress = dice.between(0.5, 1.0);
    add_consonant(wave, syllable, dice);
    add_vowel(wave, syllable, tract, dice);
    t += syllable_length + (dice.whole(0, 5) == 0 ? dice.between(0.08, 0.2) : 0.015);
  }
}

}  // namespace jigtime::demo
